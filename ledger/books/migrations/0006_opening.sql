-- Books begun in the middle of a year or of the work: what was before them.

-- Figures from before the books of which nothing is posted; the latest row of a figure is the one that holds, and zero
-- takes it back. account: the category of income or expenses. period: the estimated-tax period, 1 to 4.
create table before_books (
    id integer primary key,
    what text not null check (what in ('income', 'expenses', 'estimated tax', 'taken in', 'earned')),
    account integer references account (id),
    period integer check (period between 1 and 4),
    cents integer not null check (cents between -100000000000000 and 100000000000000),
    on_date text not null check (date(on_date, '+0 days') is on_date),
    check ((what in ('income', 'expenses')) = (account is not null)),
    check ((what = 'estimated tax') = (period is not null))
) strict;
create index before_books_by_figure on before_books (what, account, period, id);
--guard before_books id

-- A job whose piece had left before the books began, and of which only the debt is left.
create table job_before_books (
    id integer primary key,
    job integer not null unique references job (id)
) strict;
--guard job_before_books id; job
