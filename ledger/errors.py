"""One family of errors: a sentence about what was wrong, a sentence about what to do, and the field it concerns.

Whatever is refused to a person is a `Refused`. Anything else that escapes is a defect of this program, and the
command line says so.
"""

from __future__ import annotations

from collections.abc import Iterable


class Refused(Exception):
    """Something was not done, and nothing was written.

    what: what was wrong, one sentence. do: what to do about it, one sentence. field: the option or form field that
    the sentence concerns, None where it concerns the whole act.
    """

    def __init__(self, what: str, do: str, field: str | None = None) -> None:
        super().__init__(f"{what} {do}")
        self.what = what
        self.do = do
        self.field = field


class NotUnderstood(Refused):
    """What was typed cannot be read as what stands there: an amount, a date, a length, a period."""


class NotFound(Refused):
    """A name or number that the books do not hold."""


class NotPossible(Refused):
    """Understood, but the state of the job, the account or the period does not let it be done."""


class BooksNotUsable(Refused):
    """The books folder cannot be opened: missing, junk, newer than the program, no permission."""


class BooksDamaged(Refused):
    """The books were opened to look at only, because a check failed."""


class BooksBusy(Refused):
    """Another window holds the write lock."""


class FigureNotKnown(Refused):
    """A published figure was asked for beyond the date through which it is known."""


def unknown_name(kind: str, name: str, known: Iterable[str], field: str | None = None) -> NotFound:
    """The refusal for a name that is not in the books, offering the three nearest ones."""
    from difflib import get_close_matches  # 8 ms, needed only when something is refused

    by_fold = {each.casefold(): each for each in known}
    nearest = get_close_matches(name.casefold(), by_fold, n=3, cutoff=0.0)
    offered = ", ".join(f"«{by_fold[each]}»" for each in nearest)
    do = f"The nearest are {offered}." if offered else f"There is no {kind} in the books yet."
    return NotFound(f"There is no {kind} called «{name}».", do, field)
