-- The work: customers, prices, jobs with their lines and events, how they were paid, and what the machine cost.

create table customer (
    id integer primary key,
    party integer not null unique references party (id),
    since text not null check (date(since, '+0 days') is since)
) strict;
--guard customer id; party

create table price (
    id integer primary key,
    name text not null check (length(name) between 1 and 120 and instr(name, char(0)) = 0),
    name_key text not null check (instr(name_key, char(0)) = 0),
    by_measure text not null check (by_measure in ('area', 'length', 'inch', 'yard', 'hour', 'each', 'flat')),
    rate text not null check (instr(rate, char(0)) = 0),
    class text not null check (instr(class, char(0)) = 0),
    minimum integer not null check (minimum between 0 and 100000000000000),
    allowance text not null check (instr(allowance, char(0)) = 0),
    kind text check (kind in ('binding', 'batting')),
    includes_tax integer not null check (includes_tax in (0, 1)),
    from_date text not null check (date(from_date, '+0 days') is from_date)
) strict;
create index price_by_name on price (name_key, from_date, id);
--guard price id

create table job (
    id integer primary key,
    customer integer not null references customer (id),
    piece text not null check (length(piece) between 1 and 500 and instr(piece, char(0)) = 0),
    width text not null check (instr(width, char(0)) = 0),
    length text not null check (instr(length, char(0)) = 0),
    value integer not null check (value between 0 and 100000000000000),
    promised text check (date(promised, '+0 days') is promised),
    rush_percent text not null default '0' check (instr(rush_percent, char(0)) = 0),
    minimum integer not null default 0 check (minimum between 0 and 100000000000000),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index job_by_customer on job (customer, id);
--guard job id

create table job_line (
    id integer primary key,
    job integer not null references job (id),
    line integer not null check (line >= 1),
    price integer not null references price (id),
    name text not null check (instr(name, char(0)) = 0),
    quantity text not null check (instr(quantity, char(0)) = 0),
    unit text not null check (instr(unit, char(0)) = 0),
    rate text not null check (instr(rate, char(0)) = 0),
    cents integer not null check (cents between 0 and 100000000000000),
    class text not null check (instr(class, char(0)) = 0),
    includes_tax integer not null check (includes_tax in (0, 1)),
    unique (job, line)
) strict;
--guard job_line id; job, line

-- What was seen and agreed when the piece came in. Sizes are measured on up to three lines, in the units of the books.
create table intake (
    id integer primary key,
    job integer not null unique references job (id),
    widths text not null check (instr(widths, char(0)) = 0),
    lengths text not null check (instr(lengths, char(0)) = 0),
    condition text check (instr(condition, char(0)) = 0),
    may_collect text check (instr(may_collect, char(0)) = 0)
) strict;
--guard intake id; job

-- Status, custody and visits are read from these alone.
create table job_event (
    id integer primary key,
    job integer not null references job (id),
    what text not null check (
        what in ('asked', 'booked', 'in', 'ready', 'picked up', 'pickup undone', 'back', 'called off')
    ),
    on_date text not null check (date(on_date, '+0 days') is on_date),
    entry integer references entry (number)
) strict;
create index job_event_by_job on job_event (job, id);
create index job_event_by_date on job_event (on_date, job);
--guard job_event id

create table payment (
    id integer primary key,
    entry integer not null references entry (number),
    job integer references job (id),
    how text not null check (how in ('cash', 'check', 'card', 'transfer')),
    cents integer not null check (cents <> 0 and cents between -100000000000000 and 100000000000000),
    fee integer not null check (fee between -100000000000000 and 100000000000000),
    reference text check (instr(reference, char(0)) = 0)
) strict;
create index payment_by_entry on payment (entry);
create index payment_by_job on payment (job, id) where job is not null;
--guard payment id

-- What a job owes, split into the charge and its tax: a sale not paid adds, a payment takes away.
create table owed_part (
    id integer primary key,
    entry integer not null references entry (number),
    job integer not null references job (id),
    charge integer not null check (charge between -100000000000000 and 100000000000000),
    tax integer not null check (tax between -100000000000000 and 100000000000000)
) strict;
create index owed_part_by_job on owed_part (job, id);
create index owed_part_by_entry on owed_part (entry);
--guard owed_part id

create table machine_cost (
    id integer primary key,
    what text not null check (length(what) between 1 and 500 and instr(what, char(0)) = 0),
    cents integer not null check (cents <> 0 and cents between -100000000000000 and 100000000000000),
    on_date text not null check (date(on_date, '+0 days') is on_date),
    entry integer references entry (number)
) strict;
create index machine_cost_by_entry on machine_cost (entry);
--guard machine_cost id
