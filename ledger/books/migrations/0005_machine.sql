-- The machine: its loan as it runs, and the plans that were made for it.

-- A machine beside the first, which has no row: where no machine is named, it is the first.
create table machine (
    id integer primary key,
    name text not null check (length(name) between 1 and 120 and instr(name, char(0)) = 0),
    name_key text not null unique check (instr(name_key, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
--guard machine id; name_key

-- basis_cents: what of a part counts for the tax basis, a memo. placed_on: the day it was placed in service.
alter table machine_cost add column machine integer references machine (id);
alter table machine_cost add column kind text check (
    kind in ('price', 'freight', 'table', 'sales tax', 'use tax', 'attachments', 'training', 'upgrade', 'trade-in', 'resale')
);
alter table machine_cost add column placed_on text check (date(placed_on, '+0 days') is placed_on);
alter table machine_cost add column basis_cents integer
    check (basis_cents between -100000000000000 and 100000000000000);

-- What share of a machine is used for the workshop, and what share of the jobs it does, from a day on.
create table machine_share (
    id integer primary key,
    machine integer references machine (id),
    of_what text not null check (of_what in ('use', 'jobs')),
    percent text not null check (instr(percent, char(0)) = 0),
    reason text not null check (length(reason) between 1 and 500 and instr(reason, char(0)) = 0),
    from_date text not null check (date(from_date, '+0 days') is from_date),
    made_on text not null check (date(made_on, '+0 days') is made_on)
) strict;
create index machine_share_by_machine on machine_share (machine, of_what, from_date, id);
--guard machine_share id

-- The terms of a loan. payment_cents: as the lender set it. offer_percent: charged back from taken_on where the loan is
-- not paid off by offer_ends_on. entry: what put it on its account, null where a purchase did.
create table loan (
    id integer primary key,
    machine integer references machine (id),
    lender text check (length(lender) between 1 and 120 and instr(lender, char(0)) = 0),
    cents integer not null check (cents between 1 and 100000000000000),
    percent text not null check (instr(percent, char(0)) = 0),
    months integer not null check (months between 1 and 600),
    taken_on text not null check (date(taken_on, '+0 days') is taken_on),
    first_on text not null check (date(first_on, '+0 days') is first_on and first_on >= taken_on),
    payment_cents integer check (payment_cents between 1 and 100000000000000),
    offer_percent text check (instr(offer_percent, char(0)) = 0),
    offer_ends_on text check (date(offer_ends_on, '+0 days') is offer_ends_on),
    entry integer references entry (number),
    replaces integer unique references loan (id),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index loan_by_entry on loan (entry);
--guard loan id; replaces

-- What happened on a loan. interest_cents: what of a payment was interest. A payment counts while its entry stands.
create table loan_event (
    id integer primary key,
    loan integer not null references loan (id),
    what text not null check (what in ('payment', 'extra', 'paid off', 'skipped', 'rate')),
    cents integer check (cents between 1 and 100000000000000),
    interest_cents integer check (interest_cents between 0 and 100000000000000),
    percent text check (instr(percent, char(0)) = 0),
    entry integer references entry (number),
    on_date text not null check (date(on_date, '+0 days') is on_date),
    takes_back integer unique references loan_event (id)
) strict;
create index loan_event_by_loan on loan_event (loan, on_date, id);
create index loan_event_by_entry on loan_event (entry);
--guard loan_event id; takes_back

-- The plans that were made for a machine, as they were typed; the latest row is the one that the books are held against.
create table plan (
    id integer primary key,
    name text not null check (length(name) between 1 and 120 and instr(name, char(0)) = 0),
    content text not null check (length(content) between 1 and 100000 and instr(content, char(0)) = 0),
    starts_on text not null check (date(starts_on, '+0 days') is starts_on),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
--guard plan id

-- Hours at a job, as she logs them. takes_back: a row that was logged in error.
create table job_hours (
    id integer primary key,
    job integer not null references job (id),
    hours text not null check (instr(hours, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date),
    takes_back integer unique references job_hours (id)
) strict;
create index job_hours_by_job on job_hours (job, id);
--guard job_hours id; takes_back
