-- The bank's word: statements as they were read, which line is which entry, and what was agreed.

-- document: the digest of the file, null where only what she picked from it is kept.
create table statement (
    id integer primary key,
    account integer not null references account (id),
    form text not null check (form in ('ofx', 'csv', 'picked')),
    label text not null check (length(label) between 1 and 200 and instr(label, char(0)) = 0),
    document text check (length(document) = 64 and document not glob '*[^0-9a-f]*' and instr(document, char(0)) = 0),
    number_ending text check (length(number_ending) between 1 and 4 and instr(number_ending, char(0)) = 0),
    first_date text not null check (date(first_date, '+0 days') is first_date),
    last_date text not null check (date(last_date, '+0 days') is last_date),
    ending integer check (ending between -100000000000000 and 100000000000000),
    ending_date text check (date(ending_date, '+0 days') is ending_date),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index statement_by_account on statement (account, id);
--guard statement id

-- cents: above zero came in. bank_id: the bank's own name for the line, empty where it has none. repeats: the line of
-- another file that this one may be once more.
create table statement_line (
    id integer primary key,
    statement integer not null references statement (id),
    account integer not null references account (id),
    date text not null check (date(date, '+0 days') is date),
    cents integer not null check (cents <> 0 and cents between -100000000000000 and 100000000000000),
    text text not null check (length(text) between 1 and 200 and instr(text, char(0)) = 0),
    memo text not null check (length(memo) <= 200 and instr(memo, char(0)) = 0),
    check_number text not null check (length(check_number) <= 60 and instr(check_number, char(0)) = 0),
    kind text not null check (length(kind) <= 20 and instr(kind, char(0)) = 0),
    bank_id text not null check (length(bank_id) <= 255 and instr(bank_id, char(0)) = 0),
    digest text not null check (length(digest) = 64 and digest not glob '*[^0-9a-f]*' and instr(digest, char(0)) = 0),
    occurrence integer not null check (occurrence between 1 and 100000),
    text_key text not null check (length(text_key) <= 200 and instr(text_key, char(0)) = 0),
    repeats integer references statement_line (id),
    unique (account, bank_id, digest, occurrence)
) strict;
create index statement_line_by_account on statement_line (account, date, cents);
create index statement_line_by_statement on statement_line (statement, id);
create index statement_line_by_key on statement_line (text_key, id);
--guard statement_line id; account, bank_id, digest, occurrence

-- Which column of a bank's CSV is what; the latest of an account counts.
create table statement_map (
    id integer primary key,
    account integer not null references account (id),
    map text not null check (length(map) between 2 and 4000 and instr(map, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index statement_map_by_account on statement_map (account, id);
--guard statement_map id

-- What a line was taken for; a later row of the same line takes its place, and «undone» leaves it open again.
-- category: where it was placed by her, from which habits are read.
create table line_match (
    id integer primary key,
    line integer not null references statement_line (id),
    how text not null check (
        how in ('found', 'entry', 'category', 'job', 'home', 'transfer', 'payout', 'returned', 'loan', 'ignored', 'later', 'undone')
    ),
    books_entry integer not null check (books_entry in (0, 1)),
    category integer references account (id),
    who text check (length(who) between 1 and 120 and instr(who, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index line_match_by_line on line_match (line, id);
--guard line_match id

-- The postings of the line's account that it is; together they come to its amount.
create table line_match_part (
    id integer primary key,
    line_match integer not null references line_match (id),
    entry integer not null,
    posting integer not null,
    foreign key (entry, posting) references posting (entry, line)
) strict;
create index line_match_part_by_match on line_match_part (line_match, id);
create index line_match_part_by_entry on line_match_part (entry, posting);
--guard line_match_part id

-- An account that agreed with its statement at the end of a day, or cash that was counted. covered: the digest of what
-- it rests on. head: the last entry of that moment. entry: what was over or short.
create table agreement (
    id integer primary key,
    account integer not null references account (id),
    date text not null check (date(date, '+0 days') is date),
    ending integer not null check (ending between -100000000000000 and 100000000000000),
    balance integer not null check (balance between -100000000000000 and 100000000000000),
    covered text not null check (length(covered) = 64 and covered not glob '*[^0-9a-f]*' and instr(covered, char(0)) = 0),
    head text not null check (instr(head, char(0)) = 0),
    entry integer references entry (number),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index agreement_by_account on agreement (account, date, id);
--guard agreement id

-- What the bank had not seen on the day of an agreement: checks outstanding, deposits on their way.
create table agreement_open (
    id integer primary key,
    agreement integer not null references agreement (id),
    entry integer not null,
    posting integer not null,
    foreign key (entry, posting) references posting (entry, line)
) strict;
create index agreement_open_by_agreement on agreement_open (agreement, id);
--guard agreement_open id
