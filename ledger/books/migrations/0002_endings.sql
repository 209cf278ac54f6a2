-- Every way a job can end: payments that come back, gift certificates, barter, pieces sent by post or left behind, and
-- which card payments a payout covered.

create table returned_payment (
    id integer primary key,
    entry integer not null references entry (number),
    payment integer not null references payment (id)
) strict;
create index returned_payment_by_payment on returned_payment (payment);
--guard returned_payment id

create table gift_certificate (
    id integer primary key,
    code text not null unique check (length(code) between 1 and 40 and instr(code, char(0)) = 0),
    entry integer not null references entry (number),
    party integer references party (id),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
--guard gift_certificate id; code

-- What a certificate holds: its sale adds, its use takes away; undoing either adds a row with its sign turned.
create table gift_movement (
    id integer primary key,
    certificate integer not null references gift_certificate (id),
    entry integer not null references entry (number),
    cents integer not null check (cents <> 0 and cents between -100000000000000 and 100000000000000)
) strict;
create index gift_movement_by_certificate on gift_movement (certificate, id);
create index gift_movement_by_entry on gift_movement (entry);
--guard gift_movement id

create table barter (
    id integer primary key,
    entry integer not null references entry (number),
    job integer not null references job (id),
    account integer not null references account (id),
    cents integer not null check (cents <> 0 and cents between -100000000000000 and 100000000000000),
    what text not null check (length(what) between 1 and 500 and instr(what, char(0)) = 0)
) strict;
create index barter_by_entry on barter (entry);
--guard barter id

create table shipment (
    id integer primary key,
    job integer not null references job (id),
    entry integer references entry (number),
    place text check (length(place) between 1 and 120 and instr(place, char(0)) = 0),
    carrier text check (instr(carrier, char(0)) = 0),
    tracking text check (instr(tracking, char(0)) = 0),
    insured integer not null check (insured between 0 and 100000000000000),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index shipment_by_job on shipment (job, id);
--guard shipment id

-- A jurisdiction that levies at the destination, where her state sources there; without a row it is her own place's.
create table jurisdiction_place (
    id integer primary key,
    jurisdiction integer not null unique references jurisdiction (id),
    place text not null check (length(place) between 1 and 120 and instr(place, char(0)) = 0),
    place_key text not null check (instr(place_key, char(0)) = 0)
) strict;
--guard jurisdiction_place id; jurisdiction

create table notice (
    id integer primary key,
    job integer not null references job (id),
    how text not null check (length(how) between 1 and 500 and instr(how, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index notice_by_job on notice (job, id);
--guard notice id

create table payout_line (
    id integer primary key,
    entry integer not null references entry (number),
    payment integer not null references payment (id),
    cents integer not null check (cents <> 0 and cents between -100000000000000 and 100000000000000)
) strict;
create index payout_line_by_payment on payout_line (payment);
create index payout_line_by_entry on payout_line (entry);
--guard payout_line id

create table certificate_detail (
    id integer primary key,
    certificate integer not null unique references certificate (id),
    state text check (instr(state, char(0)) = 0)
) strict;
--guard certificate_detail id; certificate

-- How a class is treated beyond yes and no: `split` spreads a charge such as postage over the other lines by price.
alter table class_answer add column rule text check (rule in ('split'));
