-- Her own hand on the set-up list: items that she added, words and places that she changed, what she put away. The list
-- that comes with the program is laid under these changes, so that a newer one loses none of them.

-- Made one after the other. Of words the latest row of an item counts; a null says what the list says.
create table item_change (
    id integer primary key,
    item text not null check (length(item) between 1 and 60 and instr(item, char(0)) = 0),
    what text not null check (what in ('added', 'reworded', 'moved', 'hidden', 'shown')),
    stage text check (length(stage) between 1 and 60 and instr(stage, char(0)) = 0),
    follows text check (length(follows) <= 60 and instr(follows, char(0)) = 0),
    title text check (length(title) between 1 and 120 and instr(title, char(0)) = 0),
    why text check (length(why) between 1 and 500 and instr(why, char(0)) = 0),
    ask text check (length(ask) between 1 and 120 and instr(ask, char(0)) = 0),
    questions text check (length(questions) >= 1 and instr(questions, char(0)) = 0),
    proof text check (length(proof) between 1 and 500 and instr(proof, char(0)) = 0),
    recurs text check (length(recurs) between 1 and 120 and instr(recurs, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index item_change_by_item on item_change (item, id);
--guard item_change id

-- Which items of the list that comes with the program she has seen; what is in none of these is new to her.
create table list_seen (
    id integer primary key,
    items text not null check (instr(items, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
--guard list_seen id
