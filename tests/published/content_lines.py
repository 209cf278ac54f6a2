"""A strict reader of iCalendar files, written from RFC 5545 alone: it says what is wrong, and takes nothing on trust.

It knows what a calendar of whole-day events with recurrence rules and alarms may hold, and refuses everything else.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta

_NAME = r"[A-Za-z0-9-]+"
_VALUE_CHARACTER = r"[\t\x20-\x7e\x80-\U0010ffff]"  # section 3.1: value-char
_PARAMETER = re.compile(rf';({_NAME})=("[^"\x00-\x1f]*"|[^";:,\x00-\x1f]*)')
_LINE = re.compile(rf'({_NAME})((?:;{_NAME}=(?:"[^"\x00-\x1f]*"|[^";:,\x00-\x1f]*))*):({_VALUE_CHARACTER}*)')
_TEXT = re.compile(r"(?:[^\\;,\x00-\x1f]|\\[\\;,nN])*")  # section 3.3.11, with the colon and the quote of a value
_DATE = re.compile(r"([0-9]{4})([0-9]{2})([0-9]{2})")
_MOMENT = re.compile(r"([0-9]{8})T([0-9]{6})Z")
_DURATION = re.compile(r"([+-]?)P(?:([0-9]+)W|(?:([0-9]+)D)?(?:T(?:([0-9]+)H)?(?:([0-9]+)M)?(?:([0-9]+)S)?)?)")
# Section 3.3.10, but for what goes by the hour and less.
_DAY_LIST = r"(?:[+-]?[0-9]{1,2})?(?:SU|MO|TU|WE|TH|FR|SA)"
_NUMBER_LIST = r"[+-]?[0-9]{1,3}"
_RULE_PARTS = {
    "FREQ": re.compile("DAILY|WEEKLY|MONTHLY|YEARLY"),
    "INTERVAL": re.compile("[0-9]+"),
    "BYDAY": re.compile(rf"{_DAY_LIST}(?:,{_DAY_LIST})*"),
    "WKST": re.compile("SU|MO|TU|WE|TH|FR|SA"),
    **{
        name: re.compile(rf"{_NUMBER_LIST}(?:,{_NUMBER_LIST})*")
        for name in ("BYMONTHDAY", "BYYEARDAY", "BYWEEKNO", "BYMONTH", "BYSETPOS")
    },
}
# For each component its properties: those that stand once and only once, and those that may stand once. Sections 3.4,
# 3.6, 3.6.1 and 3.6.6.
_ONCE = {
    "VCALENDAR": {"VERSION", "PRODID"},
    "VEVENT": {"UID", "DTSTAMP", "DTSTART"},
    "VALARM": {"ACTION", "TRIGGER", "DESCRIPTION"},
}
_AT_MOST_ONCE = {
    "VCALENDAR": {"CALSCALE"},
    "VEVENT": {"SUMMARY", "DESCRIPTION", "SEQUENCE", "STATUS", "CLASS", "TRANSP", "RRULE"},
    "VALARM": set[str](),
}
_INSIDE = {"VCALENDAR": {"VEVENT"}, "VEVENT": {"VALARM"}, "VALARM": set[str]()}
_WORDS = {
    "VERSION": {"2.0"},
    "CALSCALE": {"GREGORIAN"},
    "STATUS": {"TENTATIVE", "CONFIRMED", "CANCELLED"},
    "CLASS": {"PUBLIC", "PRIVATE", "CONFIDENTIAL"},
    "TRANSP": {"OPAQUE", "TRANSPARENT"},
    "ACTION": {"DISPLAY"},
}


class NotRfc5545(Exception):
    """What is wrong with a file."""


@dataclass
class Component:
    """properties: the value of each as it stands, by name. parameters: of the same names."""

    name: str
    properties: dict[str, str] = field(default_factory=dict)
    parameters: dict[str, dict[str, str]] = field(default_factory=dict)
    components: list[Component] = field(default_factory=list)

    def text(self, name: str) -> str:
        """A TEXT value without its escapes."""
        value = self.properties[name]
        _hold(_TEXT.fullmatch(value) is not None, f"{name} holds an escape or a sign that no text may: {value}")
        return re.sub(r"\\(.)", lambda found: "\n" if found[1] in "nN" else found[1], value)

    def day(self, name: str) -> date:
        """A DATE value."""
        _hold(self.parameters[name] == {"VALUE": "DATE"}, f"{name} is no date by its parameters")
        return _date(self.properties[name])

    def moment(self, name: str) -> datetime:
        """A DATE-TIME in UTC."""
        found = _MOMENT.fullmatch(self.properties[name])
        if found is None:
            raise NotRfc5545(f"{name} is no moment in UTC: {self.properties[name]}")
        _date(found[1])
        return datetime.strptime(f"{found[1]}{found[2]}", "%Y%m%d%H%M%S").replace(tzinfo=UTC)

    def duration(self, name: str) -> timedelta:
        found = _DURATION.fullmatch(self.properties[name])
        if found is None or not any(found.groups()[1:]) or self.properties[name].endswith("T"):
            raise NotRfc5545(f"{name} is no duration: {self.properties[name]}")
        weeks, days, hours, minutes, seconds = (int(each or 0) for each in found.groups()[1:])
        length = timedelta(weeks=weeks, days=days, hours=hours, minutes=minutes, seconds=seconds)
        return -length if found[1] == "-" else length


def read_calendar(content: bytes) -> Component:
    """The calendar of a file, checked through. Raises NotRfc5545."""
    calendar = _assembled(list(_unfolded(content)))
    _check(calendar)
    return calendar


def _unfolded(content: bytes) -> Iterator[str]:
    """The content lines: every line ends with CR and LF, none is longer than 75 octets, none breaks a character."""
    _hold(content.endswith(b"\r\n"), "the last line does not end")
    physical = content[:-2].split(b"\r\n")
    logical: list[bytes] = []
    for line in physical:
        _hold(b"\r" not in line and b"\n" not in line, f"a bare CR or LF stands in {line!r}")
        _hold(len(line) <= 75, f"a line has {len(line)} octets: {line!r}")
        _hold(line != b"", "an empty line")
        line.decode("utf-8")  # section 3.1 lets a fold part the octets of a character; ours does not
        if line[:1] in (b" ", b"\t"):
            _hold(bool(logical), "the first line is folded")
            logical[-1] += line[1:]
        else:
            logical.append(line)
    return (line.decode("utf-8") for line in logical)


def _assembled(lines: Sequence[str]) -> Component:
    root = Component("")
    open_components = [root]
    for line in lines:
        found = _LINE.fullmatch(line)
        if found is None:
            raise NotRfc5545(f"no content line: {line!r}")
        name, value = found[1].upper(), found[3]
        if name == "BEGIN":
            open_components.append(Component(value))
        elif name == "END":
            closed = open_components.pop()
            _hold(closed.name == value and bool(open_components), f"END:{value} closes {closed.name}")
            open_components[-1].components.append(closed)
        else:
            here = open_components[-1]
            _hold(name not in here.properties, f"{name} stands twice in {here.name}")
            here.properties[name] = value
            here.parameters[name] = {key.upper(): each.strip('"') for key, each in _PARAMETER.findall(found[2])}
    _hold(len(open_components) == 1, "a component is not closed")
    _hold([each.name for each in root.components] == ["VCALENDAR"] and not root.properties, "not one calendar")
    return root.components[0]


def _check(component: Component) -> None:
    name, found = component.name, set(component.properties)
    for inner in component.components:
        _hold(inner.name in _INSIDE[name], f"{inner.name} inside {name}")
        _check(inner)
    _hold(_ONCE[name] <= found, f"{name} lacks {_ONCE[name] - found}")
    _hold(found <= _ONCE[name] | _AT_MOST_ONCE[name], f"{name} has {found - _ONCE[name] - _AT_MOST_ONCE[name]}")
    for key, words in _WORDS.items():
        _hold(component.properties.get(key, min(words)) in words, f"{key} is {component.properties.get(key)}")
    for key in found & {"UID", "SUMMARY", "DESCRIPTION", "PRODID"}:
        _hold(component.text(key) != "", f"{key} is empty")
    if name == "VCALENDAR":
        _hold(bool(component.components), "a calendar has at least one component")
        uids = [each.properties["UID"] for each in component.components]
        _hold(len(uids) == len(set(uids)), "two events have one UID")
    if name == "VEVENT":
        component.day("DTSTART")
        component.moment("DTSTAMP")
        _hold(component.properties.get("SEQUENCE", "0").isdecimal(), "SEQUENCE is no number")
        if "RRULE" in found:
            _check_rule(component.properties["RRULE"])
    if name == "VALARM":
        component.duration("TRIGGER")


def _check_rule(rule: str) -> None:
    parts = [each.partition("=")[::2] for each in rule.split(";")]
    names = [name for name, _ in parts]
    _hold(len(names) == len(set(names)), f"a part stands twice in {rule}")
    _hold(names[0] == "FREQ", f"{rule} does not begin with FREQ, as older readers want it")
    for name, value in parts:
        _hold(name in _RULE_PARTS and _RULE_PARTS[name].fullmatch(value) is not None, f"{name}={value} in {rule}")


def _date(text: str) -> date:
    found = _DATE.fullmatch(text)
    if found is None:
        raise NotRfc5545(f"no date: {text}")
    try:
        return date(*map(int, found.groups()))
    except ValueError as error:
        raise NotRfc5545(f"no day of any month: {text}") from error


def _hold(holds: bool, what: str) -> None:
    if not holds:
        raise NotRfc5545(what)
