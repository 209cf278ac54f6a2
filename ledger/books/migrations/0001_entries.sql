-- What an entry is made of and what it refers to. Everything is written once: `--guard TABLE KEY; KEY` stands for the
-- three triggers of books/guards.py, which refuse an existing key, a change and a removal.

create table setting (
    id integer primary key,
    key text not null unique check (instr(key, char(0)) = 0),
    value text not null check (instr(value, char(0)) = 0)
) strict;
--guard setting id; key

create table choice (
    id integer primary key,
    key text not null check (instr(key, char(0)) = 0),
    value text not null check (instr(value, char(0)) = 0),
    asked text check (instr(asked, char(0)) = 0),
    from_date text not null check (date(from_date, '+0 days') is from_date),
    made_on text not null check (date(made_on, '+0 days') is made_on)
) strict;
create index choice_by_key on choice (key, from_date, id);
--guard choice id

create table party (
    id integer primary key,
    added_on text not null check (date(added_on, '+0 days') is added_on)
) strict;
--guard party id

create table party_detail (
    id integer primary key,
    party integer not null references party (id),
    name text not null check (length(name) between 1 and 120 and instr(name, char(0)) = 0),
    name_key text not null check (instr(name_key, char(0)) = 0),
    contact text check (instr(contact, char(0)) = 0),
    on_date text not null check (date(on_date, '+0 days') is on_date)
) strict;
create index party_detail_by_party on party_detail (party, id);
create index party_detail_by_key on party_detail (name_key, party);
--guard party_detail id

create table account (
    id integer primary key,
    name text not null check (length(name) between 1 and 120 and instr(name, char(0)) = 0),
    name_key text not null unique check (instr(name_key, char(0)) = 0),
    role text unique check (instr(role, char(0)) = 0),
    purse text not null check (purse in ('business', 'personal')),
    kind text not null check (kind in ('asset', 'liability', 'equity', 'income', 'expense')),
    crosses integer not null check (crosses in (0, 1)),
    unique (id, purse)
) strict;
--guard account id; name_key; role

create table entry (
    number integer primary key references seal (number) deferrable initially deferred,
    date text not null check (date(date, '+0 days') is date),
    belongs_on text check (date(belongs_on, '+0 days') is belongs_on),
    text text not null check (length(text) between 1 and 500 and instr(text, char(0)) = 0),
    who integer references party (id),
    kind text not null check (length(kind) between 1 and 40 and instr(kind, char(0)) = 0),
    job integer references job (id),
    reverses integer unique references entry (number),
    version integer not null check (version = 1)
) strict;
create index entry_by_date on entry (date, number);
create index entry_by_job on entry (job, number) where job is not null;
create index entry_by_who on entry (who, number) where who is not null;
--guard entry number; reverses

create table posting (
    entry integer not null references entry (number),
    line integer not null check (line >= 1),
    account integer not null,
    purse text not null check (purse in ('business', 'personal')),
    cents integer not null check (cents <> 0 and cents between -100000000000000 and 100000000000000),
    primary key (entry, line),
    foreign key (account, purse) references account (id, purse)
) strict, without rowid;
create index posting_by_account on posting (account, entry, cents);
--guard posting entry, line

-- What a sale consisted of, class by class, after discount and before tax.
create table slip_line (
    entry integer not null references entry (number),
    line integer not null check (line >= 1),
    job_line integer references job_line (id),
    class text not null check (instr(class, char(0)) = 0),
    cents integer not null check (cents between -100000000000000 and 100000000000000),
    treatment text not null check (treatment in ('taxed', 'not taxed', 'exempt', 'unanswered')),
    certificate integer references certificate (id),
    primary key (entry, line)
) strict, without rowid;
--guard slip_line entry, line

create table tax_line (
    entry integer not null references entry (number),
    line integer not null check (line >= 1),
    rate integer not null references rate (id),
    percent text not null check (instr(percent, char(0)) = 0),
    base integer not null check (base between -100000000000000 and 100000000000000),
    cents integer not null check (cents between -100000000000000 and 100000000000000),
    primary key (entry, line)
) strict, without rowid;
create index tax_line_by_rate on tax_line (rate, entry);
--guard tax_line entry, line

create table seal (
    number integer primary key references entry (number),
    previous text not null check (length(previous) = 64 and previous not glob '*[^0-9a-f]*' and instr(previous, char(0)) = 0),
    digest text not null unique check (length(digest) = 64 and digest not glob '*[^0-9a-f]*' and instr(digest, char(0)) = 0)
) strict;
--guard seal number; digest

-- A running sum, so that a balance never reads every posting; `prove` adds everything up again.
create table month_total (
    account integer not null references account (id),
    month text not null check (month is substr(date(month || '-01', '+0 days'), 1, 7)),
    cents integer not null,
    primary key (account, month)
) strict, without rowid;

create table closing (
    id integer primary key,
    through text not null check (date(through, '+0 days') is through),
    reopened integer not null check (reopened in (0, 1)),
    why text check (instr(why, char(0)) = 0),
    head text not null check (instr(head, char(0)) = 0),
    at text not null check (date(at, '+0 days') is at)
) strict;
--guard closing id

create table restored (
    id integer primary key,
    head_before text not null check (instr(head_before, char(0)) = 0),
    at text not null check (date(at, '+0 days') is at)
) strict;
--guard restored id

create table attachment (
    id integer primary key,
    digest text not null check (length(digest) = 64 and digest not glob '*[^0-9a-f]*' and instr(digest, char(0)) = 0),
    label text not null check (instr(label, char(0)) = 0),
    bytes integer not null check (bytes > 0),
    entry integer references entry (number),
    job integer references job (id),
    certificate integer references certificate (id),
    item text check (instr(item, char(0)) = 0),
    at text not null check (date(at, '+0 days') is at)
) strict;
create index attachment_by_entry on attachment (entry) where entry is not null;
--guard attachment id

-- One chain of digests over every row of every table that is no part of an entry.
create table record (
    number integer primary key,
    of_table text not null check (instr(of_table, char(0)) = 0),
    row integer not null,
    digest text not null check (length(digest) = 64 and digest not glob '*[^0-9a-f]*' and instr(digest, char(0)) = 0),
    unique (of_table, row)
) strict;
--guard record number; of_table, row

create trigger entry_part_is_open before insert on posting
begin
    select raise(abort, 'the entry is sealed') where exists (select 1 from seal where number = new.entry);
    select raise(abort, 'there is no such entry') where not exists (select 1 from entry where number = new.entry);
end;

create trigger entry_slip_is_open before insert on slip_line
begin
    select raise(abort, 'the entry is sealed') where exists (select 1 from seal where number = new.entry);
    select raise(abort, 'there is no such entry') where not exists (select 1 from entry where number = new.entry);
end;

create trigger entry_tax_is_open before insert on tax_line
begin
    select raise(abort, 'the entry is sealed') where exists (select 1 from seal where number = new.entry);
    select raise(abort, 'there is no such entry') where not exists (select 1 from entry where number = new.entry);
end;

create trigger entry_number_is_next before insert on entry
when new.number is not (select coalesce(max(number), 0) + 1 from seal)
begin select raise(abort, 'entry numbers have no gaps'); end;

create trigger record_number_is_next before insert on record
when new.number is not (select coalesce(max(number), 0) + 1 from record)
begin select raise(abort, 'record numbers have no gaps'); end;

create trigger seal_follows before insert on seal
begin
    select raise(abort, 'the seal is out of order')
    where new.number is not (select coalesce(max(number), 0) + 1 from seal);
    select raise(abort, 'there is no such entry to seal')
    where not exists (select 1 from entry where number = new.number);
    select raise(abort, 'the seal does not follow the one before it')
    where new.previous is not coalesce(
        (select digest from seal where number = new.number - 1),
        '0000000000000000000000000000000000000000000000000000000000000000'
    );
end;

create trigger seal_balances before insert on seal
begin
    select raise(abort, 'an entry has at least two postings')
    where (select count(*) from posting where entry = new.number) < 2;
    select raise(abort, 'the postings of a purse do not add to zero')
    where exists (select 1 from posting where entry = new.number group by purse having sum(cents) <> 0);
    select raise(abort, 'the crossing accounts do not mirror each other')
    where (
        select coalesce(sum(posting.cents), 0) from posting
        join account on account.id = posting.account
        where posting.entry = new.number and account.crosses = 1
    ) <> 0;
end;

create trigger seal_keeps_dates before insert on seal
begin
    select raise(abort, 'the date lies in a closed period')
    where (select date from entry where number = new.number)
        <= (select through from closing order by id desc limit 1);
    select raise(abort, 'the date lies before the books began')
    where (select date from entry where number = new.number)
        < (select value from setting where key = 'begun_on');
end;

create trigger seal_mirrors before insert on seal
when (select reverses from entry where number = new.number) is not null
begin
    select raise(abort, 'a reversal follows what it reverses')
    where (select reverses from entry where number = new.number) >= new.number;
    select raise(abort, 'a reversal is not reversed')
    where (
        select reverses from entry
        where number = (select reverses from entry where number = new.number)
    ) is not null;
    select raise(abort, 'a reversal mirrors every posting')
    where exists (
        select line, account, -cents from posting where entry = new.number
        except
        select line, account, cents from posting
        where entry = (select reverses from entry where number = new.number)
    ) or (select count(*) from posting where entry = new.number) <> (
        select count(*) from posting
        where entry = (select reverses from entry where number = new.number)
    );
    select raise(abort, 'a reversal mirrors every slip line')
    where exists (
        select line, class, treatment, -cents from slip_line where entry = new.number
        except
        select line, class, treatment, cents from slip_line
        where entry = (select reverses from entry where number = new.number)
    ) or (select count(*) from slip_line where entry = new.number) <> (
        select count(*) from slip_line
        where entry = (select reverses from entry where number = new.number)
    );
    select raise(abort, 'a reversal mirrors every tax line')
    where exists (
        select line, rate, -base, -cents from tax_line where entry = new.number
        except
        select line, rate, base, cents from tax_line
        where entry = (select reverses from entry where number = new.number)
    ) or (select count(*) from tax_line where entry = new.number) <> (
        select count(*) from tax_line
        where entry = (select reverses from entry where number = new.number)
    );
end;

create trigger seal_adds_up after insert on seal
begin
    insert into month_total (account, month, cents)
    select account, substr((select date from entry where number = new.number), 1, 7), sum(cents)
    from posting where entry = new.number group by account
    on conflict (account, month) do update set cents = cents + excluded.cents;
end;
