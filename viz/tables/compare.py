"""Settings against a base as plain text at most 100 characters wide: figures, what is upset, work, lock."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from textwrap import wrap

import numpy as np

from kinematics.change.change import Difference, Differences
from scenarios.ask.compare import WAY_WORDS, WAYS, Against, Compared, one
from viz.tables.cases import COLUMNS as CASE_COLUMNS
from viz.tables.cases import LEGEND as CASE_LEGEND
from viz.tables.headline import DECIMALS, NONE, SUFFIXES, WIDTH, fitted_line, number, shorten
from viz.tables.lock import shown_rows
from viz.tables.work import work_lines
from viz.words.cautions import WITH_WORK

LABEL, UNIT, BASE, VALUE, CHANGE = 22, 8, 13, 10, 9
ABREAST = (WIDTH - LABEL - UNIT - BASE) // (VALUE + CHANGE)
UPSET = (
    ("toe_left_deg", "toe left", 2),
    ("toe_right_deg", "toe right", 2),
    ("toe_total_mm", "toe total", 1),
    ("camber_left_deg", "camber left", 2),
    ("camber_right_deg", "camber right", 2),
    ("ride_height_change_front_mm", "ride height front", 2),
    ("ride_height_change_rear_mm", "ride height rear", 2),
    ("front_track_mm", "front track", 2),
    ("wheelbase_left_mm", "wheelbase left", 2),
    ("wheelbase_right_mm", "wheelbase right", 2),
    ("load_front_left_n", "load front left", 1),
    ("load_front_right_n", "load front right", 1),
    ("load_rear_left_n", "load rear left", 1),
    ("load_rear_right_n", "load rear right", 1),
    ("cross_weight_percent", "cross weight", 2),
)
UPSET_LEGEND = (
    "Straight ahead. Loads, cross weight (front right and rear left) and ride height (+ frame higher than",
    "as measured) with the kart standing, driver seated. toe: + is toe-in.",
)
LOCK = (
    ("steer_{}_deg", "steer", 2),
    ("camber_{}_deg", "camber", 2),
    ("wheel_drop_{}_mm", "wheel drop", 2),
    ("caster_trail_{}_mm", "trail", 1),
    ("scrub_{}_mm", "scrub", 1),
)
LIFT = "rigid_inside_rear_lift_mm"
CELL = 8


def signed(value: float | None, decimals: int) -> str:
    """A difference with its sign, 0 without one."""
    text = number(value, decimals)
    return text if value is None or float(text) == 0.0 or value < 0.0 else f"+{text}"


def report(compared: Compared, way: str) -> list[str]:
    """All that is told of a comparison; way is how the kart is left in the tables of figures."""
    scenario = compared.scenario
    lines = wrap(f"{scenario.title} ({scenario.source}), against {compared.base}", WIDTH)
    lines += ["", *headline(compared, way)]
    for against in compared.settings:
        lines += ["", *_one_setting(compared, against)]
    lines += ["", *UPSET_LEGEND]
    if compared.cases:
        lines += ["", *case_summary(compared, way), "", *CASE_LEGEND]
    return [*lines, "", *wrap(" ".join(WITH_WORK), WIDTH)]


def headline(compared: Compared, way: str) -> list[str]:
    """Headline figures: the base, then each setting with its difference."""
    lines = [f"Headline figures, {WAY_WORDS[way]}:"]
    for start in range(0, len(compared.settings), ABREAST):
        some = compared.settings[start : start + ABREAST]
        if start:
            lines.append("")
        names = "".join(f"  {shorten(a.name, VALUE + CHANGE - 2)}".rjust(VALUE + CHANGE) for a in some)
        lines.append(" " * (LABEL + UNIT) + shorten(compared.base, BASE - 1).rjust(BASE) + names)
        lines += [_headline_row(name, some, way) for name in _shown(some[0].ways[way].figures)]
    return lines


def _shown(figures: Differences) -> Iterator[str]:
    """Names of the headline figures; corner weights and places are told further on."""
    apart = {name for name, *_ in UPSET} - {"toe_left_deg", "toe_right_deg", "toe_total_mm"}
    for name in figures:
        upset = name in apart and not name.startswith("camber")
        if not upset and not name.startswith(("binds_at", "half_track", "wheel_height")):
            yield name


def _headline_row(name: str, settings: Sequence[Against], way: str) -> str:
    first = settings[0].ways[way].figures[name]
    decimals = DECIMALS.get(first.unit, 2)
    row = f"{shorten(_label(first), LABEL - 1):<{LABEL}}{first.unit:<{UNIT}}"
    row += number(one(first)[0], decimals).rjust(BASE)
    for against in settings:
        _, now, change = one(against.ways[way].figures[name])
        row += number(now, decimals).rjust(VALUE) + signed(change, decimals).rjust(CHANGE)
    return row


def _label(figure: Difference) -> str:
    stem = figure.name.removesuffix(f"_{SUFFIXES.get(figure.unit, figure.unit)}")
    return stem.replace("_", " ").replace("kingpin inclination", "kingpin incl.")


def _one_setting(compared: Compared, against: Against) -> list[str]:
    fitted = compared.scenario.resolved["setting"][against.name]
    said = f"{against.name}: {fitted['note']}" if fitted["note"] else against.name
    lines = wrap(said, WIDTH) + [fitted_line(side, fitted[side]) for side in ("left", "right")]
    lines += ["", *upset_table(compared, against), "", *work_lines(compared.scenario, against.change)]
    for way in ("alone", "reset"):
        title = f"Through lock, {WAY_WORDS[way]}, {against.name} less {compared.base}:"
        lines += ["", *wrap(title, WIDTH), *lock_table(compared, against, way)]
    if compared.cases:
        lines += ["", *case_lock_table(compared, against, "reset")]
    return lines


def upset_table(compared: Compared, against: Against) -> list[str]:
    """What the change upsets, in all three ways of leaving the kart."""
    lines = [
        f"{'What it upsets':<{LABEL + UNIT}}"
        + shorten(compared.base, BASE - 1).rjust(BASE)
        + "".join(text.rjust(VALUE + CHANGE) for text in ("rods alone", "toe re-set", "spacers + toe"))
    ]
    for name, label, decimals in UPSET:
        figures = [against.ways[way].figures[name] for way in WAYS]
        row = f"{label:<{LABEL}}{figures[0].unit:<{UNIT}}"
        row += number(one(figures[1])[0], decimals).rjust(BASE)
        for figure in figures:
            _, now, change = one(figure)
            row += number(now, decimals).rjust(VALUE) + signed(change, decimals).rjust(CHANGE)
        lines.append(row)
    return lines


def _positions(compared: Compared) -> list[int]:
    handwheel = np.array(compared.handwheel_deg)
    straight = np.flatnonzero(handwheel == 0.0)
    return shown_rows(len(handwheel), int(straight[0]) if straight.size else None, 6)


def at(difference: Difference, row: int) -> tuple[float | None, float | None]:
    """Now and change of a column at a lock position, None where there is none."""
    known = bool(np.broadcast_to(difference.known, difference.now.shape)[row])
    return (float(difference.now[row]), float(difference.change[row])) if known else (None, None)


def lock_table(compared: Compared, against: Against, way: str) -> list[str]:
    """Differences of the geometry at some lock positions."""
    curves = against.ways[way].curves
    sides = "".join("left".rjust(CELL) + "right".rjust(CELL) for _ in LOCK)
    lines = [
        "wheel".rjust(CELL) + "".join(title.center(2 * CELL) for _, title, _ in LOCK) + "lift".rjust(CELL),
        "deg".rjust(CELL) + sides,
    ]
    for row in _positions(compared):
        text = number(compared.handwheel_deg[row], 1).rjust(CELL)
        for pattern, _, decimals in LOCK:
            for side in ("left", "right"):
                text += signed(at(curves[pattern.format(side)], row)[1], decimals).rjust(CELL)
        lines.append(text + signed(at(curves[LIFT], row)[1], 2).rjust(CELL))
    return [line.rstrip() for line in lines]


def case_lock_table(compared: Compared, against: Against, way: str) -> list[str]:
    """The inside rear's load at some lock positions in each load case, and its difference."""
    lines = [f"Inside rear load (N), {WAY_WORDS[way]}: now, and less {compared.base}"]
    wide = 2 * CELL
    for start in range(0, len(compared.cases), (WIDTH - CELL) // wide):
        some = compared.cases[start : start + (WIDTH - CELL) // wide]
        lines.append("wheel".rjust(CELL) + "".join(f"  {shorten(c, wide - 2)}".rjust(wide) for c in some))
        for row in _positions(compared):
            cells = (at(against.ways[way].cases[case]["inside_rear_load_n"], row) for case in some)
            text = "".join(number(n, 0).rjust(CELL) + signed(c, 0).rjust(CELL) for n, c in cells)
            lines.append(number(compared.handwheel_deg[row], 1).rjust(CELL) + text)
    return lines


NAME, TURN, WHO = 18, 6, 14


def case_summary(compared: Compared, way: str) -> list[str]:
    """Headline figures of every load case: the base, each setting, and each setting's difference."""
    title = f"Load cases, {WAY_WORDS[way]}; load, lift and camber at {compared.at_deg:g} deg of handwheel:"
    head = f"{'load case':<{NAME}}{'turn':<{TURN}}{'setting':<{WHO}}"
    lines = [
        title,
        head + "".join(above.rjust(7) for _, above, _, _ in CASE_COLUMNS),
        " " * len(head) + "".join(unit.rjust(7) for _, _, unit, _ in CASE_COLUMNS),
    ]
    for case in compared.cases:
        for turn in ("left", "right"):
            lines += _case_rows(compared, case, turn, way)
    return lines


def _case_rows(compared: Compared, case: str, turn: str, way: str) -> list[str]:
    found = [against.ways[way].case_figures[case] for against in compared.settings]
    if not any(bool(f[name.format(turn)].known) for f in found for name, *_ in CASE_COLUMNS):
        return []
    first = f"{shorten(case, NAME - 1):<{NAME}}{turn:<{TURN}}"
    rows = [(first, compared.base, _cells(found[0], turn, 0))]
    for against, figures in zip(compared.settings, found, strict=True):
        rows.append((" " * (NAME + TURN), against.name, _cells(figures, turn, 1)))
        rows.append((" " * (NAME + TURN), "  change", _cells(figures, turn, 2)))
    return [f"{start}{shorten(who, WHO - 1):<{WHO}}{cells}" for start, who, cells in rows]


def _cells(figures: Mapping[str, Difference], turn: str, which: int) -> str:
    cells = []
    for name, _, _, decimals in CASE_COLUMNS:
        figure = figures[name.format(turn)]
        value = one(figure)[which]
        cells.append(signed(value, decimals) if which == 2 else number(value, decimals, NONE))
    return "".join(cell.rjust(7) for cell in cells)
