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
from viz.words.width import MOST_LINES, filled, laid

LONG, MOST_ROWS = 60.0, 60
"""Minutes that are always told, and sessions in a table."""


def report(plan: ReadingPlan, minutes: float, tables: bool) -> list[str]:
    """The answer in a few lines, as far as an hour or the minutes asked for; with tables every session."""
    title = f"{plan.scenario.title}, {plan.setting}: what to read next for {_asked(plan)}."
    caution = f"  {READING}"
    rows = list(_rows(plan, max(minutes, LONG)))
    room = MOST_LINES - len(laid([title, caution])) - 2
    more = [f"  {len(rows) - room + 1} more: --tables"] if len(rows) > room else []
    lines = [*_now(plan), *(rows[: room - 1] + more if more else rows)]
    return [*laid([title]), *lines, *laid([caution]), *(["", *_table(plan)] if tables else [])]


def _rows(plan: ReadingPlan, span: float) -> Iterator[str]:
    """A line a session: minutes so far, what is then left unknown, and what it is."""
    spent = 0.0
    for one in plan.within(span):
        spent += one.minutes
        left = _left(plan.asked, one.spread)
        yield filled(f"  {number(spent, 0):>3} min  {left}  {one.session.words}")[0]
    if not spent:
        yield f"  Nothing that tells of it in {number(span, 0)} minutes."


def _asked(plan: ReadingPlan) -> str:
    return " and ".join(one.address.words if one.address else one.name for one in plan.asked)


def _now(plan: ReadingPlan) -> Iterator[str]:
    for one, spread in zip(plan.asked, plan.now, strict=True):
        yield f"  Known now: {sure_of(one.value, float(spread))} {one.unit}".rstrip() + ". In this order:"


def sure_of(value: float, spread: float) -> str:
    """A value and give or take what, 95 in 100."""
    half = COVERED * spread
    places = decimals(half, 3)
    return f"{number(value, places, hand=PAGE)} ± {number(half, places)}"


def _left(asked: Sequence[Wished], spread: Array) -> str:
    return " and ".join(
        f"± {number(COVERED * float(s), decimals(COVERED * float(s), 3))} {one.unit}".rstrip()
        for one, s in zip(asked, spread, strict=True)
    )


def _table(plan: ReadingPlan) -> list[str]:
    """Every session alone, what tells most first."""
    heads = [GridColumn(("session",), text=True, name=True), GridColumn(("min",))]
    heads += [GridColumn(("leaves ±", one.unit)) for one in plan.asked]
    ranked = sorted(plan.alone, key=lambda one: float(sum(one[2] / plan.now)))
    rows = [
        [session.words, number(minutes, 0), *(_half(float(spread)) for spread in left)]
        for session, minutes, left in ranked[:MOST_ROWS]
    ]
    ready = "; ".join(f"{words} {minutes:g}" for words, minutes in SETUPS.values())
    return [*layout(Grid(heads, rows)), "", *laid([f"Minutes, with what is made ready once: {ready}."])]


def _half(spread: float) -> str:
    return number(COVERED * spread, decimals(COVERED * spread, 3))
