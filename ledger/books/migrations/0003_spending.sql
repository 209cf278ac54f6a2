-- Sunday evening: categories she names, merges and retires herself, shared bills, the mileage log, paid helpers, and
-- what is owed to the owner, entry by entry.

-- The latest row of an account counts: its name now, the day from which nothing more goes there, what it was merged into.
create table account_change (
    id integer primary key,
    account integer not null references account (id),
    name text not null check (length(name) between 1 and 120 and instr(name, char(0)) = 0),
    name_key text not null check (instr(name_key, char(0)) = 0),
    line_key text check (instr(line_key, char(0)) = 0),
    retired_on text check (date(retired_on, '+0 days') is retired_on),
    merged_into integer references account (id),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index account_change_by_account on account_change (account, id);
--guard account_change id

create table shared_bill (
    id integer primary key,
    name text not null check (length(name) between 1 and 120 and instr(name, char(0)) = 0),
    name_key text not null unique check (instr(name_key, char(0)) = 0),
    account integer not null references account (id),
    of_the_home integer not null check (of_the_home in (0, 1)),
    recurs text check (instr(recurs, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
--guard shared_bill id; name_key

create table bill_share (
    id integer primary key,
    bill integer not null references shared_bill (id),
    percent text not null check (instr(percent, char(0)) = 0),
    reason text not null check (length(reason) between 1 and 500 and instr(reason, char(0)) = 0),
    from_date text not null check (date(from_date, '+0 days') is from_date),
    made_on text not null check (date(made_on, '+0 days') is made_on)
) strict;
create index bill_share_by_bill on bill_share (bill, from_date, id);
--guard bill_share id

create table bill_payment (
    id integer primary key,
    bill integer not null references shared_bill (id),
    entry integer not null references entry (number),
    percent text not null check (instr(percent, char(0)) = 0),
    cents integer not null check (cents <> 0 and cents between -100000000000000 and 100000000000000)
) strict;
create index bill_payment_by_bill on bill_payment (bill, id);
create index bill_payment_by_entry on bill_payment (entry);
--guard bill_payment id

create table mileage (
    id integer primary key,
    on_date text not null check (date(on_date, '+0 days') is on_date),
    miles text not null check (instr(miles, char(0)) = 0),
    place text not null check (length(place) between 1 and 500 and instr(place, char(0)) = 0),
    why text not null check (length(why) between 1 and 500 and instr(why, char(0)) = 0),
    takes_back integer unique references mileage (id)
) strict;
create index mileage_by_date on mileage (on_date, id);
--guard mileage id; takes_back

create table helper (
    id integer primary key,
    party integer not null references party (id),
    tax_form text check (instr(tax_form, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index helper_by_party on helper (party, id);
--guard helper id
