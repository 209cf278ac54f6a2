-- A quarter's end: stock that she counted, her own questions for the accountant, and what was answered.

create table stock_count (
    id integer primary key,
    cents integer not null check (cents between 0 and 100000000000000),
    on_date text not null check (date(on_date, '+0 days') is on_date),
    made_on text not null check (date(made_on, '+0 days') is made_on)
) strict;
create index stock_count_by_date on stock_count (on_date, id);
--guard stock_count id

create table question (
    id integer primary key,
    text text not null check (length(text) between 1 and 500 and instr(text, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
--guard question id

-- What was said to a question, her own or one that the program found: it is known by its words.
create table question_answer (
    id integer primary key,
    question text not null check (length(question) between 1 and 500 and instr(question, char(0)) = 0),
    answer text not null check (length(answer) between 1 and 500 and instr(answer, char(0)) = 0),
    who text check (length(who) between 1 and 120 and instr(who, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index question_answer_by_question on question_answer (question, id);
--guard question_answer id
