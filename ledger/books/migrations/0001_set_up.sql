-- What she was told about each item of the set-up checklist, by whom and when; the latest row of an item counts.

create table answer (
    id integer primary key,
    item text not null check (length(item) between 1 and 120 and instr(item, char(0)) = 0),
    state text not null check (state in ('open', 'asked', 'done', 'does not apply')),
    value text check (instr(value, char(0)) = 0),
    asked text check (instr(asked, char(0)) = 0),
    reference text check (instr(reference, char(0)) = 0),
    note text check (instr(note, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date),
    expires text check (date(expires, '+0 days') is expires),
    document text check (length(document) = 64 and document not glob '*[^0-9a-f]*' and instr(document, char(0)) = 0)
) strict;
create index answer_by_item on answer (item, id);
--guard answer id
