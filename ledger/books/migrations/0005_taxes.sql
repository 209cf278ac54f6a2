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

-- A return as it was filed: figures in cents, the worksheet as it stood and its SHA-256. sequence: 0 the first of its
-- period, then amended ones. through_entry: the last entry that stood in the books. sales_tax: owed, the rounding in it.
create table filing (
    id integer primary key,
    start_date text not null check (date(start_date, '+0 days') is start_date),
    end_date text not null check (date(end_date, '+0 days') is end_date and end_date >= start_date),
    sequence integer not null check (sequence between 0 and 1000),
    due_on text not null check (date(due_on, '+0 days') is due_on),
    filed_on text not null check (date(filed_on, '+0 days') is filed_on),
    through_entry integer not null check (through_entry between 0 and 100000000000000),
    sales_tax integer not null check (sales_tax between -100000000000000 and 100000000000000),
    use_tax integer not null check (use_tax between -100000000000000 and 100000000000000),
    allowance integer not null check (allowance between 0 and 100000000000000),
    carried integer not null check (carried between 0 and 100000000000000),
    is_claimed integer not null check (is_claimed in (0, 1)),
    worksheet text not null check (length(worksheet) >= 2 and instr(worksheet, char(0)) = 0),
    digest text not null check (length(digest) = 64 and digest not glob '*[^0-9a-f]*' and instr(digest, char(0)) = 0),
    entry integer references entry (number)
) strict;
create index filing_by_period on filing (start_date, id);
--guard filing id

-- A filing that was entered in error and never went out.
create table filing_undone (
    id integer primary key,
    filing integer not null unique references filing (id),
    why text not null check (length(why) between 1 and 500 and instr(why, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
--guard filing_undone id; filing

-- What was paid on a return, below zero where the state paid back. use_tax: the part of money and allowance together
-- that settles use tax.
create table filing_payment (
    id integer primary key,
    filing integer not null references filing (id),
    entry integer not null unique references entry (number),
    cents integer not null check (cents between -100000000000000 and 100000000000000),
    allowance integer not null check (allowance between 0 and 100000000000000),
    use_tax integer not null check (use_tax between -100000000000000 and 100000000000000)
) strict;
create index filing_payment_by_filing on filing_payment (filing, id);
--guard filing_payment id; entry

-- A class that is taxed otherwise between two days: not at all, or at a rate of its own. rate: that rate, which holds
-- for this class alone; null where the class is not taxed.
create table tax_holiday (
    id integer primary key,
    class text not null check (length(class) between 1 and 120 and instr(class, char(0)) = 0),
    name text not null check (length(name) between 1 and 120 and instr(name, char(0)) = 0),
    asked text not null check (instr(asked, char(0)) = 0),
    from_date text not null check (date(from_date, '+0 days') is from_date),
    until_date text not null check (date(until_date, '+0 days') is until_date and until_date >= from_date),
    rate integer unique references rate (id),
    made_on text not null check (date(made_on, '+0 days') is made_on)
) strict;
create index tax_holiday_by_class on tax_holiday (class, from_date);
--guard tax_holiday id; rate

-- The rule of a class that is taxed only where the materials are worth more than a share of the charge, or, if
-- when_apart, where they stand on a line of their own. materials_percent: what is in the charge of those not shown.
create table materials_test (
    id integer primary key,
    answer integer not null unique references class_answer (id),
    over_percent text not null check (instr(over_percent, char(0)) = 0),
    materials_percent text not null check (instr(materials_percent, char(0)) = 0),
    when_apart integer not null check (when_apart in (0, 1))
) strict;
--guard materials_test id; answer

-- Her own income and self-employment tax, paid from either purse: for which tax year, and on which of its four dates.
-- period: null where it was paid with the return.
create table estimated_payment (
    id integer primary key,
    entry integer not null references entry (number),
    tax_year integer not null check (tax_year between 1900 and 2199),
    period integer check (period between 1 and 4),
    cents integer not null check (cents <> 0 and cents between -100000000000000 and 100000000000000)
) strict;
create index estimated_payment_by_year on estimated_payment (tax_year, id);
create index estimated_payment_by_entry on estimated_payment (entry);
--guard estimated_payment id
