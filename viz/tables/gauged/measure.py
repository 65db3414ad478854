"""What to read next, in words: session by session, with the minutes so far and what each leaves unknown."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from kinematics.frames import Array
from scenarios.gauged.candidates import SETUPS
from scenarios.gauged.fit import COVERED
from scenarios.gauged.plan import ReadingPlan, Wished
from viz.tables.grid import Grid, GridColumn, layout
from viz.words.cautions import READING
from viz.words.numbers import PAGE, number
from viz.words.sure import decimals
from viz.words.width import MOST_LINES, laid, width

NOTHING = "nothing that tells of it."
SPANS = (15.0, 30.0, 60.0)
"""Minutes that are always told: what a session of so many would leave unknown."""


def report(plan: ReadingPlan, minutes: float, tables: bool, after: Sequence[str] = ()) -> list[str]:
    """The answer in a few lines, as far as an hour or the minutes asked for; with tables every session."""
    title = f"{plan.scenario.title}, {plan.setting}: what to read next for {_asked(plan)}."
    caution = f"  {READING}"
    rows = list(_rows(plan, minutes))
    head, end = [*laid([title]), *_now(plan, minutes)], [*laid([caution]), *after]
    room = MOST_LINES - len(head) - len(end) - 1
    more = [f"  {len(rows) - room + 1} more: --tables"] if len(rows) > room else []
    columns = [GridColumn(("min",)), GridColumn(("leaves ±",)), GridColumn(("",), text=True)]
    told = layout(Grid(columns, rows[: room - 1] if more else rows), width() - 2) if rows else []
    lines = [f"  {line}" for line in told]
    return [*head, *lines, *more, *end, *(["", *_table(plan)] if tables else [])]


def _rows(plan: ReadingPlan, span: float) -> Iterator[list[str]]:
    """A session: minutes so far, what is then left unknown, and what it is."""
    spent = 0.0
    for one in plan.within(span):
        spent += one.minutes
        yield [number(spent, 0), _left(plan.asked, one.spread), one.session.words]


def _asked(plan: ReadingPlan) -> str:
    return " and ".join(one.address.words if one.address else one.name for one in plan.asked)


def _now(plan: ReadingPlan, minutes: float) -> list[str]:
    each = zip(plan.asked, plan.now, strict=True)
    known = "; ".join(f"{sure_of(one.value, float(spread))} {one.unit}".rstrip() for one, spread in each)
    return laid(
        [
            f"  Known now: {known}; {_spans(plan)}.",
            f"  In {minutes:g} minutes, {'in this order:' if plan.within(minutes) else NOTHING}",
        ]
    )


def _spans(plan: ReadingPlan) -> str:
    """What sessions of a quarter, half and a whole hour would leave unknown."""
    left = [(span, plan.within(span)) for span in SPANS]
    return ", ".join(
        f"in {span:g} min ± {_left(plan.asked, some[-1].spread if some else plan.now)}" for span, some in left
    )


def sure_of(value: float, spread: float) -> str:
    """A value and give or take what, 95 in 100."""
    half = COVERED * spread
    places = decimals(half, 3)
    return f"{number(value, places, hand=PAGE)} ± {number(half, places)}"


def _left(asked: Sequence[Wished], spread: Array) -> str:
    each = zip(asked, spread, strict=True)
    return ", ".join(f"{_half(float(left))} {one.unit}".rstrip() for one, left in each)


def _table(plan: ReadingPlan) -> list[str]:
    """Every session alone, what tells most first."""
    heads = [GridColumn(("no.",)), GridColumn(("session",), text=True, name=True), GridColumn(("min",))]
    heads += [GridColumn(("leaves ±", one.unit)) for one in plan.asked]
    every = enumerate(plan.alone, 1)
    ranked = sorted(every, key=lambda one: float(sum(one[1][2] / plan.now)))
    rows = [
        [f"{place}", session.words, number(minutes, 0), *(_half(float(spread)) for spread in left)]
        for place, (session, minutes, left) in ranked
    ]
    ready = "; ".join(f"{words} {minutes:g}" for words, minutes in SETUPS.values())
    return [*layout(Grid(heads, rows)), "", *laid([f"Minutes, with what is made ready once: {ready}."])]


def _half(spread: float) -> str:
    return number(COVERED * spread, decimals(COVERED * spread, 3))
