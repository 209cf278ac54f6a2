-- Sales tax to the end: what was filed and paid, and untaxed stock followed to where it went.

-- What became of stock that was bought untaxed, at its cost. Where something was booked the entry has the day.
create table stock_use (
    id integer primary key,
    stock integer not null references untaxed_stock (id),
    entry integer references entry (number),
    how text not null check (
        how in ('sold', 'work as resale', 'work as use', 'work unanswered', 'own', 'charity', 'customer', 'sample')
    ),
    cents integer not null check (cents <> 0 and cents between -100000000000000 and 100000000000000),
    what text not null check (length(what) between 1 and 500 and instr(what, char(0)) = 0),
    on_date text check (date(on_date, '+0 days') is on_date),
    takes_back integer unique references stock_use (id),
    check ((entry is null) = (on_date is not null))
) strict;
create index stock_use_by_stock on stock_use (stock, id);
create index stock_use_by_entry on stock_use (entry);
--guard stock_use id; takes_back

-- What was bought without tax for the workshop's own use, such as the machine. entry: the one that books its use tax.
create table untaxed_purchase (
    id integer primary key,
    entry integer not null references entry (number),
    purchase integer references entry (number),
    account integer not null references account (id),
    cents integer not null check (cents <> 0 and cents between -100000000000000 and 100000000000000)
) strict;
create index untaxed_purchase_by_purchase on untaxed_purchase (purchase, account);
create index untaxed_purchase_by_entry on untaxed_purchase (entry);
--guard untaxed_purchase id

-- Use tax of an entry, jurisdiction by jurisdiction, at the rate of the day on which the stock was used.
create table use_tax_line (
    id integer primary key,
    entry integer not null references entry (number),
    rate integer not null references rate (id),
    percent text not null check (instr(percent, char(0)) = 0),
    base integer not null check (base between -100000000000000 and 100000000000000),
    cents integer not null check (cents between -100000000000000 and 100000000000000)
) strict;
create index use_tax_line_by_entry on use_tax_line (entry);
--guard use_tax_line id

-- Who has her own resale certificate: given, or back. number: as it stood on the one that was given.
create table supplier_certificate (
    id integer primary key,
    party integer not null references party (id),
    what text not null check (what in ('given', 'back')),
    number text check (instr(number, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index supplier_certificate_by_party on supplier_certificate (party, id);
--guard supplier_certificate id

-- The fields of the uniform exemption form beyond those of `certificate`.
create table certificate_form (
    id integer primary key,
    certificate integer not null unique references certificate (id),
    address text check (instr(address, char(0)) = 0),
    single_purchase text check (instr(single_purchase, char(0)) = 0),
    business text check (instr(business, char(0)) = 0),
    letter text check (length(letter) = 1 and letter glob '[A-M]' and instr(letter, char(0)) = 0),
    signed_by text check (instr(signed_by, char(0)) = 0),
    title text check (instr(title, char(0)) = 0),
    signed_on text check (date(signed_on, '+0 days') is signed_on)
) strict;
--guard certificate_form id; certificate
