-- Sales tax: who levies it, at which rate and since when, what she was told about each class, who is exempt.

create table jurisdiction (
    id integer primary key,
    name text not null check (length(name) between 1 and 120 and instr(name, char(0)) = 0),
    name_key text not null unique check (instr(name_key, char(0)) = 0),
    level text not null check (level in ('state', 'county', 'city', 'district'))
) strict;
--guard jurisdiction id; name_key

create table rate (
    id integer primary key,
    jurisdiction integer not null references jurisdiction (id),
    percent text not null check (instr(percent, char(0)) = 0),
    from_date text not null check (date(from_date, '+0 days') is from_date),
    until_date text check (date(until_date, '+0 days') is until_date and until_date >= from_date),
    made_on text not null check (date(made_on, '+0 days') is made_on)
) strict;
create index rate_by_jurisdiction on rate (jurisdiction, from_date, id);
--guard rate id

create table class_answer (
    id integer primary key,
    class text not null check (length(class) between 1 and 120 and instr(class, char(0)) = 0),
    taxed integer not null check (taxed in (0, 1)),
    asked text not null check (instr(asked, char(0)) = 0),
    from_date text not null check (date(from_date, '+0 days') is from_date),
    until_date text check (date(until_date, '+0 days') is until_date and until_date >= from_date),
    made_on text not null check (date(made_on, '+0 days') is made_on)
) strict;
create index class_answer_by_class on class_answer (class, from_date, id);
--guard class_answer id

create table certificate (
    id integer primary key,
    party integer not null references party (id),
    reason text not null check (instr(reason, char(0)) = 0),
    number text check (instr(number, char(0)) = 0),
    from_date text not null check (date(from_date, '+0 days') is from_date),
    expires text check (date(expires, '+0 days') is expires)
) strict;
create index certificate_by_party on certificate (party, id);
--guard certificate id

create table untaxed_stock (
    id integer primary key,
    entry integer not null references entry (number),
    account integer not null references account (id),
    cents integer not null check (cents <> 0 and cents between -100000000000000 and 100000000000000)
) strict;
create index untaxed_stock_by_entry on untaxed_stock (entry);
--guard untaxed_stock id
