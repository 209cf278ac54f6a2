"""What the machine's room says in words and columns: its figures, its months, the plan, and what jobs earn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from ledger.books.books import Books
from ledger.machine.forecast import Forecast, months_on
from ledger.machine.job_earnings import Earning, JobEarnings
from ledger.machine.job_earnings_record import read_job_earnings
from ledger.machine.kept_plans import KeptPlan, held_against
from ledger.machine.payback import Payback
from ledger.machine.payback_record import PaybackRecord
from ledger.machine.plan import work_out
from ledger.screens.showing import Showing, counted, padded, paired
from ledger.text import shown

BEFORE = "Before income tax and any pay for your time."
_WIDTH = 50
# Cells of a line of what jobs earn.
_WHOLE_WIDTH = 75
_SPREAD = (
    "The last twelve months. Receipts name no job: material is spread by what was sold and by the area quilted. "
    "Another time is told by the command «earnings PERIOD»; w on the Bench logs hours."
)


class MachineLines:
    """Lines about one reading of the books."""

    def __init__(self, showing: Showing, record: PaybackRecord, kept: KeptPlan | None) -> None:
        self.showing = showing
        self.record = record
        self.kept = kept

    @property
    def found(self) -> Payback:
        return self.record.payback

    def without_a_price(self) -> Iterator[str]:
        yield "The machine has no price yet, so there is nothing to pay off."
        yield "Enter what it cost with c. Before you buy: f works a plan out, and keeps it."

    def in_short(self, width: int) -> Iterator[str]:
        """The figures in one line, two where they do not fit."""
        amount, found = self.showing.amount, self.found
        parts = [
            f"Cost {amount(found.cost_cents)}",
            f"taken in {amount(found.taken_in_cents)}",
            f"earned {amount(found.earned_cents)}",
            f"left {amount(found.left_cents)}",
        ]
        yield from wrap(" · ".join(parts), width)

    def figures(self, width: int) -> Iterator[str]:
        """Every figure of the payback, a line each."""
        amount, found = self.showing.amount, self.found
        if not found.cost_cents:
            yield from self.without_a_price()
            return
        yield paired("The machine cost", amount(found.cost_cents), width)
        yield ""
        yield paired("Taken in, job income alone", amount(found.taken_in_cents), width)
        for each in found.subtractions:
            yield paired(f"  less {each.category}", amount(-each.cents), width)
        yield paired("Earned towards the machine", amount(found.earned_cents), width)
        yield paired("Left", amount(found.left_cents), width)
        yield ""
        for milestone in self.record.milestones:
            reached = self.showing.day(milestone.reached_on) if milestone.reached_on else "ahead"
            yield paired(f"{milestone.what.capitalize()} of it earned", reached, width)
        yield ""
        yield from wrap(BEFORE, width)

    def outlook(self, width: int) -> Iterator[str]:
        """When it is done, how sure that is, and what would change it."""
        found, words = self.found, []
        if found.left_cents == 0:
            yield "It is paid off."
            return
        if found.jobs_left is not None:
            words.append(f"About {counted(found.jobs_left, 'job')} more, at what a job left in the last three months.")
        if found.done_in_week is not None and found.pace_cents is not None:
            week = self.showing.day(found.done_in_week)
            pace = self.showing.amount(found.pace_cents)
            words.append(f"At the pace of the last three months, {pace} a month: in the week of {week}.")
        words.append(self._likely(found.forecast))
        yield from wrap(" ".join(words), width)

    def _likely(self, forecast: Forecast) -> str:
        if forecast.too_early:
            return "When: too early to say, under three whole months of work."
        if forecast.middle is None:
            would_do = self.showing.amount(self.found.would_do_cents or 0)
            return f"When: not at this pace; {would_do} a month would do it in five years."
        late = f"{forecast.late:%Y-%m}" if forecast.late else "later than can be said"
        return (
            f"Drawn from the whole record, as the curve is: about {forecast.middle:%Y-%m}, "
            f"in four of five cases between {forecast.early:%Y-%m} and {late}."
        )

    def whole_figures(self) -> Iterator[str]:
        """The figures, and under them the record month by month, the newest first."""
        yield from self.figures(_WIDTH)
        if not self.found.cost_cents:
            return
        yield ""
        yield from self.outlook(_WIDTH)
        yield ""
        yield f"{'At the end of':14}{'cost':>14}{'taken in':>14}{'earned':>14}"
        for each in reversed(self.record.points):
            amounts = (self.showing.plain(cents) for cents in (each.cost_cents, each.taken_in_cents, each.earned_cents))
            yield f"{each.first_day:%Y-%m}{'':7}" + "".join(f"{cents:>14}" for cents in amounts)

    def plan(self) -> Iterator[str]:
        """The plan that was kept, and month by month what it said and what was."""
        if self.kept is None:
            yield "No plan is kept. f reads one from a file, and the books are held against it from then on."
            yield "The file is a text; the command «plan show --help» tells how it is written."
            return
        plain, result = self.showing.plain, work_out(self.kept.plan)
        yield shown(f"{self.kept.plan.name}, kept on {self.showing.day(self.kept.kept_on)}")
        yield "f reads another plan from a file, which then stands here in its place."
        yield ""
        yield paired("It was to cost", self.showing.amount(self.kept.plan.machine_cents), _WIDTH)
        yield paired("To be paid off", f"{result.paid_off:%Y-%m}" if result.paid_off else "never", _WIDTH)
        yield paired("Most out of pocket", self.showing.amount(result.most_out_of_pocket_cents), _WIDTH)
        if result.sensitivity:
            yield paired("It hangs most on", result.sensitivity[0].assumption, _WIDTH)
        yield ""
        yield "Earned towards the machine since the plan's start:"
        yield f"{'At the end of':14}{'planned':>14}{'earned':>14}{'ahead':>14}"
        for each in reversed(held_against(self.kept.plan, self.record.points)):
            amounts = (plain(cents) for cents in (each.planned_cents, each.earned_cents, each.ahead_cents))
            yield f"{each.first_day:%Y-%m}{'':7}" + "".join(f"{cents:>14}" for cents in amounts)

    def jobs(self, books: Books, width: int) -> Iterator[str]:
        """What a job earned in the last twelve months, by kind of work and by customer."""
        found = read_job_earnings(books, months_on(books.today.replace(day=1), -11), books.today)
        if not found.by_kind:
            yield "No job was picked up in the last twelve months."
            return
        yield from wrap(self._fastest(found), width)
        yield ""
        yield from self._earnings("By kind of work", found.by_kind, width)
        yield ""
        yield from self._earnings("By customer", found.by_customer, width)
        yield ""
        yield from wrap(_SPREAD, width)

    def _fastest(self, found: JobEarnings) -> str:
        if found.fastest is None:
            return "No kind of work at the frame leaves anything yet."
        by = "for each hour logged" if found.fastest.by == "hour" else "for its area"
        return shown(f"Pays it off fastest: {found.fastest.kind}, which leaves the most {by}.")

    def _earnings(self, title: str, rows: Sequence[Earning], width: int) -> Iterator[str]:
        """A line each; where they do not all fit, income and costs are left to what is left of them."""
        plain, is_whole = self.showing.plain, width >= _WHOLE_WIDTH
        head = f"{'income':>10}{'costs':>10}" if is_whole else ""
        yield f"{title:22}{'jobs':>5}{head}{'left':>10}{'an hour':>9}{'1000 in²':>9}"
        for each in rows:
            rates = (
                "" if cents is None else plain(cents) for cents in (each.an_hour_cents, each.a_thousand_inches_cents)
            )
            an_hour, inches = rates
            sums = (
                f"{plain(each.income_cents):>10}{plain(each.material_cents + each.fee_cents):>10}" if is_whole else ""
            )
            yield f"{padded(each.what, 21)} {each.jobs:>5}{sums}{plain(each.left_cents):>10}{an_hour:>9}{inches:>9}"
