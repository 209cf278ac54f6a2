"""Attacks on sealed data with plain SQL, and for each whether the database refuses it, `prove` shows it, or the books
stay shut. A tuple of statements is run as it stands; `Away` runs them with the triggers dropped and put back after.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

# How it ends, and by which message, which check of `prove`, or which sentence one knows it.
REFUSED, SHOWN, SHUT = "refused", "shown", "shut"


@dataclass(frozen=True)
class Attack:
    statements: tuple[str, ...]
    end: str
    sign: str
    ours: tuple[str, str] | None = None
    triggers_away: bool = False

    def on_ours(self) -> Attack:
        """The same on a connection of the program's own, where it may end otherwise."""
        return replace(self, end=self.ours[0], sign=self.ours[1]) if self.ours else self


def refused(sign: str) -> Callable[..., Attack]:
    return lambda *statements: Attack(statements, REFUSED, sign)


def shown(sign: str, ours: tuple[str, str] | None = None) -> Callable[..., Attack]:
    return lambda *statements: Attack(statements, SHOWN, sign, ours)


def behind(sign: str, ours: tuple[str, str] | None = None) -> Callable[..., Attack]:
    """Behind the triggers: shown although they are back."""
    return lambda *statements: Attack(statements, SHOWN, sign, ours, triggers_away=True)


def shut(sign: str) -> Callable[..., Attack]:
    return lambda *statements: Attack(statements, SHUT, sign)


never_changes, never_goes = refused("never changes"), refused("is never removed")
# Of several laws that refuse it, any may speak first.
once = refused("written once|sealed|no gaps|out of order")
FOREIGN_KEYS = (REFUSED, "FOREIGN KEY")
UNSEALED = "insert into entry values (16, '2026-03-20', null, 'T', null, 'k', null, null, 1)"
WRONG_TYPE = "datatype mismatch|cannot store|CHECK|NOT NULL"
FORBIDDEN = (REFUSED, "not authorized")

ON_POSTINGS = {
    "an amount changed": never_changes("update posting set cents = cents + 1 where entry = 12"),
    "an amount changed to itself": never_changes("update posting set cents = cents"),
    "a posting moved to another account": never_changes("update posting set account = 3 where entry = 12 and line = 1"),
    "a posting moved to another line": never_changes("update or replace posting set line = 2 where entry = 12"),
    "a change that would rather be ignored": never_changes("update or ignore posting set cents = 1 where entry = 12"),
    "a change through a join": never_changes("update posting set cents = 1 from entry where number = posting.entry"),
    "a posting deleted": never_goes("delete from posting where entry = 12 and line = 1"),
    "all postings deleted": never_goes("delete from posting"),
    "a posting deleted and handed back": never_goes("delete from posting where entry = 12 returning cents"),
    "a posting replaced": once("replace into posting values (12, 1, 1, 'business', 9)"),
    "a posting inserted or replaced": once("insert or replace into posting values (12, 1, 1, 'business', 9)"),
    "a posting replaced by a key in words": once("replace into posting values ('12', '1', 1, 'business', 9)"),
    "a posting replaced by a key with a point": once("replace into posting values (12.0, 1.0, 1, 'business', 9)"),
    "a posting inserted, else updated": once(
        "insert into posting values (12, 1, 1, 'business', 9) on conflict do update set cents = 9"
    ),
    "a posting inserted, else not": once("insert or ignore into posting values (12, 1, 1, 'business', 9)"),
    "a posting more on a sealed entry": once("insert into posting values (12, 3, 1, 'business', 9)"),
    "two postings that balance on a sealed entry": once(
        "insert into posting values (12, 3, 1, 'business', 9), (12, 4, 2, 'business', -9)"
    ),
    "postings laid ready for the next entry": refused("no such entry")(
        "insert into posting values (16, 8, 1, 'business', 9), (16, 9, 2, 'business', -9)"
    ),
    "a slip line laid ready for the next entry": refused("no such entry")(
        "insert into slip_line values (16, 1, null, 'work', 5, 'taxed', null)"
    ),
    "a tax line laid ready for the next entry": refused("no such entry")(
        "insert into tax_line values (16, 1, 1, '4.3', 100, 4)"
    ),
    "postings of one purse under the other's name": shown("foreign keys", ours=FOREIGN_KEYS)(
        UNSEALED, "insert into posting values (16, 1, 1, 'personal', 9), (16, 2, 2, 'personal', -9)"
    ),
    "a slip line more on a sealed entry": once("insert into slip_line values (7, 9, null, 'work', 5, 'taxed', null)"),
    "a slip line changed": never_changes("update slip_line set treatment = 'exempt'"),
    "a tax line more on a sealed entry": once("insert into tax_line values (7, 9, 1, '4.3', 100, 4)"),
    "a tax line deleted": never_goes("delete from tax_line where line = 1"),
    "words as an amount": refused(WRONG_TYPE)(UNSEALED, "insert into posting values (16, 1, 1, 'business', 'ten')"),
    "a fraction as an amount": refused(WRONG_TYPE)(UNSEALED, "insert into posting values (16, 1, 1, 'business', 0.5)"),
    "an infinite amount": refused(WRONG_TYPE)(UNSEALED, "insert into posting values (16, 1, 1, 'business', 1e999)"),
    "an amount that is no number": refused(WRONG_TYPE)(
        UNSEALED, "insert into posting values (16, 1, 1, 'business', 1e999 - 1e999)"
    ),
    "an amount beyond all bounds": refused(WRONG_TYPE)(
        UNSEALED, "insert into posting values (16, 1, 1, 'business', 100000000000001)"
    ),
}
ON_ENTRIES = {
    "a text changed": never_changes("update entry set text = 'Other' where number = 12"),
    "a date moved to another year": never_changes("update entry set date = '2025-12-31' where number = 12"),
    "an entry given another number": never_changes("update entry set number = 99 where number = 15"),
    "the last entry deleted": never_goes("delete from entry where number = 15"),
    "an entry replaced": once("replace into entry values (15, '2026-03-20', null, 'T', null, 'k', null, null, 1)"),
    "an entry replaced by its hidden key": once(
        "insert or replace into entry (rowid, date, text, kind, version) values (15, '2026-03-20', 'T', 'k', 1)"
    ),
    "an entry replaced by the other hidden key": once(
        "replace into entry (_rowid_, date, text, kind, version) values ('15', '2026-03-20', 'T', 'k', 1)"
    ),
    "a reversal replaced by what it reverses": once(
        "replace into entry values (16, '2026-03-20', null, 'T', null, 'k', null, 10, 1)"
    ),
    "a gap in the numbers": refused("no gaps")(
        "insert into entry values (17, '2026-03-20', null, 'T', null, 'k', null, null, 1)"
    ),
    "a number that is no number": refused("no gaps|datatype")(
        "insert into entry values ('x', '2026-03-20', null, 'T', null, 'k', null, null, 1)"
    ),
    "a day that there is not": refused("CHECK")(UNSEALED.replace("2026-03-20", "2026-02-30")),
    "a word for a day": refused("CHECK")(UNSEALED.replace("2026-03-20", "yesterday")),
    "text that ends early": refused("CHECK")(UNSEALED.replace("'T'", "'T' || char(0) || 'x'")),
    "an entry left unsealed": shown("unsealed", ours=FOREIGN_KEYS)(UNSEALED),
}
ON_SEALS = {
    "a seal changed": never_changes("update seal set digest = previous where number = 12"),
    "the last entry unsealed": never_goes("delete from seal where number = 15"),
    "every seal from the fourth on deleted": never_goes("delete from seal where number >= 4"),
    "a seal replaced": once("replace into seal select number, previous, previous from seal where number = 15"),
    "a seal replaced by its digest": refused("written once|two postings|no such")(
        "replace into seal select 16, digest, digest from seal where number = 15"
    ),
    "a sealed entry without postings": refused("two postings")(
        UNSEALED, f"insert into seal select 16, digest, '{'f' * 64}' from seal where number = 15"
    ),
    "an entry sealed with a digest out of the air": shown("chain")(
        UNSEALED,
        "insert into posting values (16, 1, 1, 'business', 9), (16, 2, 2, 'business', -9)",
        f"insert into seal select 16, digest, '{'f' * 64}' from seal where number = 15",
    ),
}
BESIDE_ENTRIES = {
    "an account made to cross": never_changes("update account set crosses = 1 where role = 'tips'"),
    "an account given to the other purse": never_changes("update account set purse = 'personal' where role = 'tips'"),
    "an account deleted": never_goes("delete from account where role = 'penalties'"),
    "an account replaced by its name": once(
        "replace into account values (99, 'Tips', 'tips', 'other', 'personal', 'asset', 0)"
    ),
    "an account replaced by its role": once(
        "replace into account values (99, 'T', 't', 'tips', 'personal', 'asset', 0)"
    ),
    "the beginning moved": never_changes("update setting set value = '2020-01-01' where key = 'begun_on'"),
    "the beginning replaced": once("replace into setting values (99, 'begun_on', '2020-01-01')"),
    "a closing moved": never_changes("update closing set through = '2025-12-31'"),
    "a closing deleted": never_goes("delete from closing"),
    "a reopening slipped in": shown("records")(
        "insert into closing values (3, '2025-12-31', 1, 'none', '15 000000000000', '2026-03-20')"
    ),
    "a rate slipped in": shown("records")("insert into rate values (99, 1, '0.1', '2026-01-01', null, '2026-01-05')"),
    "a customer renamed by a newer row": shown("records")(
        "insert into party_detail values (99, 2, 'Other', 'other', null, '2026-03-20')"
    ),
    "a payment for an entry that there is not": shown("foreign keys", ours=FOREIGN_KEYS)(
        "insert into payment values (99, 99, 1, 'cash', 100, 0, null)"
    ),
    "a record changed": never_changes("update record set digest = (select digest from seal) where number = 1"),
    "the last record deleted": never_goes("delete from record where number = (select max(number) from record)"),
    "a record replaced by what it records": once(
        "replace into record select max(number) + 1, 'setting', 1, digest from record"
    ),
    "a gap in the records": refused("no gaps")(
        f"insert into record select max(number) + 2, 'setting', 99, '{'f' * 64}' from record"
    ),
    "a record out of the air": shown("records")(
        f"insert into record select max(number) + 1, 'setting', 99, '{'f' * 64}' from record"
    ),
    "a running sum changed": shown("month totals")("update month_total set cents = cents + 1 where account = 1"),
    "a running sum deleted": shown("month totals")("delete from month_total where account = 1 and month = '2026-01'"),
    "a running sum of nothing added": shown("month totals")("insert into month_total values (1, '2027-01', 0)"),
    "a running sum replaced": shown("month totals")("replace into month_total values (1, '2026-01', 5)"),
}
ON_THE_SCHEMA = {
    "one trigger dropped": shown("schema")("drop trigger seal_balances"),
    "a trigger dropped and a change made": shown("schema")(
        "drop trigger posting_never_changes", "update posting set cents = 1 where entry = 12 and line = 1"
    ),
    "an index dropped": shown("schema")("drop index posting_by_account"),
    "a table dropped": shown("schema")("drop table attachment"),
    "the settings dropped": Attack(("drop table setting",), SHUT, "settings of these books are gone"),
    "a table renamed": shown("schema")("alter table slip_line rename to old_line"),
    "a column renamed": shown("schema")("alter table entry rename column kind to sort"),
    "a column added": shown("schema")("alter table posting add column memo text"),
    "a table built anew without its laws": shown("schema", ours=FOREIGN_KEYS)(
        "pragma legacy_alter_table = on",
        "create table other as select * from posting",
        "drop table posting",
        "alter table other rename to posting",
    ),
    "a trigger of somebody's own": shown("schema")(
        "create trigger more after insert on seal begin update month_total set cents = 0; end"
    ),
    "a view": shown("schema")("create view seen as select * from posting"),
    "a statement of the schema rewritten": shown("schema", ours=FORBIDDEN)(
        "pragma writable_schema = on",
        "update sqlite_schema set sql = replace(sql, '<> 0', '< 0') where name = 'seal_balances'",
    ),
    "a trigger under a name of SQLite's own": shown("schema", ours=FORBIDDEN)(
        "pragma writable_schema = on",
        "insert into sqlite_schema values ('trigger', 'sqlite_more', 'seal', 0, "
        "'create trigger sqlite_more after insert on seal begin update month_total set cents = 0; end')",
    ),
    "the schema rewritten without leave": refused("may not be modified")("delete from sqlite_schema"),
    "a newer version in the header": shut("newer version")("pragma user_version = 999"),
    "an older version in the header": shut("not that of books version 1")("pragma user_version = 1"),
    "no version in the header": shut("no books file")("pragma user_version = 0"),
    "another program's mark in the header": shut("another program")("pragma application_id = 1"),
}
WITH_TRIGGERS_AWAY = {
    "both amounts of an entry changed": behind("chain")("update posting set cents = cents * 2 where entry = 12"),
    "an amount of an entry changed": behind("sums")("update posting set cents = 1 where entry = 12 and line = 1"),
    "an entry moved to another day": behind("chain")("update entry set date = '2026-02-11' where number = 12"),
    "an entry moved to before the books began": behind("dates")(
        "update entry set date = '2025-12-31' where number = 12"
    ),
    "an entry sealed behind in a closed period": behind("dates")(
        UNSEALED.replace("2026-03-20", "2026-01-20"),
        "insert into posting values (16, 1, 1, 'business', 9), (16, 2, 2, 'business', -9)",
        f"insert into seal select 16, digest, '{'f' * 64}' from seal where number = 15",
    ),
    "a closing given another entry": behind("closings")("update closing set head = '14 000000000000' where id = 1"),
    "all postings of an entry taken away": behind("sums")("delete from posting where entry = 12"),
    "an entry moved to another month": behind("month totals")("update entry set date = '2026-03-11' where number = 12"),
    "a text changed behind": behind("chain")("update entry set text = 'Other' where number = 12"),
    "a text written in another form of the same letters": behind("chain")(
        "update entry set text = replace(text, char(233), 'e' || char(769))"
    ),
    "two texts changed about": behind("chain")(
        "update entry set text = (select text from entry as other where other.number = 27 - entry.number) "
        "where number in (13, 14)"
    ),
    "the last seal deleted": behind("unsealed", ours=FOREIGN_KEYS)("delete from seal where number = 15"),
    "an entry in the middle deleted": behind("numbers", ours=FOREIGN_KEYS)(
        "delete from posting where entry = 12", "delete from entry where number = 12"
    ),
    "an entry in the middle deleted with its seal": behind("chain")(
        "delete from seal where number = 12",
        "delete from posting where entry = 12",
        "delete from entry where number = 12",
    ),
    "the first entry deleted with its seal": behind("chain")(
        "delete from seal where number = 1", "delete from posting where entry = 1", "delete from entry where number = 1"
    ),
    "a reversal that mirrors no more": behind("pairs")("update posting set cents = cents * 2 where entry = 11"),
    "an account made to cross behind": behind("crossings")("update account set crosses = 1 where role = 'tips'"),
    "a rate changed behind": behind("records")("update rate set percent = '0.1' where id = 1"),
    "a customer's name changed behind": behind("records")("update party_detail set name = 'Other' where id = 2"),
    "a closing deleted behind": behind("records")("delete from closing where id = 2"),
    "a document's digest changed behind": behind("documents")(f"update attachment set digest = '{'0' * 64}'"),
    "a record in the middle deleted behind": behind("records")("delete from record where number = 9"),
    "a sum that SQLite cannot hold": behind("file")(
        "pragma ignore_check_constraints = on", "update posting set cents = 9223372036854775807 where entry = 12"
    ),
    "a day that there is not, with its checks off": behind("file")(
        "pragma ignore_check_constraints = on", "update entry set date = '2026-02-30' where number = 12"
    ),
}
ATTACKS: dict[str, Attack] = ON_POSTINGS | ON_ENTRIES | ON_SEALS | BESIDE_ENTRIES | ON_THE_SCHEMA | WITH_TRIGGERS_AWAY
