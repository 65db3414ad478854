"""No two cells of any table touch: arbitrary grids, and the tables of the program with absurd numbers."""

import re
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import scenarios
from kinematics.figures.kart import JACKING_RIGID
from kinematics.figures.wheel import STRAIGHT_AHEAD
from scenarios.ask import run as asked
from scenarios.ask.compare import compare
from tests.helpers.command import TABLE_WIDTH, printed
from tests.helpers.cost.depth import deep
from viz.cli import main as cli
from viz.tables import compare as compare_tables
from viz.tables.cases import case_summary
from viz.tables.grid import LEAST_NAME, Grid, GridColumn, layout, listing, shorten, under
from viz.tables.headline import NOTES, headline
from viz.tables.lock import geometry_table, standing_table
from viz.words.numbers import number, signed
from viz.words.width import filled, printed_at

VALUES = st.none() | st.floats(-1e300, 1e300) | st.sampled_from([0.0, -0.0, 1e-300, -7217.0, 301.99586, 1e9])
NUMBERS = st.builds(lambda write, value, digits: write(value, digits), st.sampled_from([number, signed]),
                    VALUES, st.integers(0, 3))  # fmt: skip
MARKS = st.sampled_from(["", "-", "none", "binds", "not reached", "1.04163 @ 301.99586", "1.993 mm @ 210"])
WORDS = st.from_regex(r"[A-Za-z0-9]([ ]?[A-Za-z0-9_.+-]){0,40}", fullmatch=True)
HEADS = st.lists(st.sampled_from(["", "deg", "hand-", "wheel drop", "N·m", "outside front"]), max_size=3)


def split(line):
    """The cells that a reader sees: what two or more spaces keep apart."""
    return re.split(r" {2,}", line.strip()) if line.strip() else []


@st.composite
def groups(draw):
    """Neighbouring columns, under a heading of their own where there are several."""
    count = draw(st.sampled_from([1, 1, 2, 3]))
    columns = [GridColumn(tuple(draw(HEADS)), text=draw(st.booleans())) for _ in range(count)]
    return under((draw(WORDS),), columns) if count > 1 else columns


@st.composite
def grids(draw):
    keys = [GridColumn(("key",), text=draw(st.booleans())) for _ in range(draw(st.integers(1, 2)))]
    body = draw(st.lists(groups(), min_size=1, max_size=12))
    columns = [*keys, *(column for group in body for column in group)]
    rows = []
    for n in range(draw(st.integers(1, 4))):
        row = [f"k{n}"] * len(keys)
        for group in body:
            alone = len(group) > 1 and draw(st.booleans())
            cells = [draw(NUMBERS | MARKS | WORDS) for _ in group]
            row += [cells[0], *([None] * (len(group) - 1))] if alone else cells
        rows.append(row)
    return Grid(columns, rows, len(keys))


def blocks_of(lines):
    return [block.splitlines() for block in "\n".join(lines).split("\n\n")]


@given(grids(), st.integers(20, 140))
def test_cells_never_touch_are_whole_and_every_block_has_its_keys(grid, width):
    blocks = blocks_of(layout(grid, width))
    seen = [[] for _ in grid.rows]
    for block in blocks:
        for n, line in enumerate(block[-len(grid.rows) :]):
            keys, cells = split(line)[: grid.keys], split(line)[grid.keys :]
            assert keys == [f"k{n}"] * grid.keys
            seen[n] += cells
    assert seen == [[cell for cell in row[grid.keys :] if cell] for row in grid.rows]
    heads = [head for block in blocks for line in block[: -len(grid.rows)] for head in split(line)]
    of_keys, others = ([h for c in some for h in c.heads if h] for some in _parted(grid))
    assert sorted(heads) == sorted(of_keys * len(blocks) + others)


def _parted(grid):
    return grid.columns[: grid.keys], grid.columns[grid.keys :]


@given(grids())
@deep(15, 120)
def test_the_width_holds_where_the_keys_and_a_group_fit(grid):
    alone = [layout(Grid(*_part(grid, group)), 1000) for group in _groups_of(grid)]
    needed = max(len(line) for lines in alone for line in lines)
    for width in (needed, needed + 7, max(needed, TABLE_WIDTH)):
        assert max(map(len, layout(grid, width))) <= width


def _groups_of(grid):
    starts = [i for i, column in enumerate(grid.columns) if i >= grid.keys and None not in column.heads]
    return [range(a, b) for a, b in zip(starts, [*starts[1:], len(grid.columns)], strict=True)]


def _part(grid, group):
    kept = [*range(grid.keys), *group]
    return [grid.columns[i] for i in kept], [[row[i] for i in kept] for row in grid.rows], grid.keys


@given(
    st.lists(WORDS, min_size=1, max_size=4), st.lists(NUMBERS, min_size=1, max_size=9), st.integers(40, 100)
)
def test_a_name_is_cut_only_as_far_as_that_spares_a_block(names, cells, width):
    body = [GridColumn(("N",)) for _ in cells]

    def lines_of(names, column):
        return layout(Grid([column, *body], [[name, *cells] for name in names]), width)

    def cut(room):
        return [shorten(name, room) for name in names]

    longest = max(LEAST_NAME, *map(len, names))
    blocks = {
        room: len(blocks_of(lines_of(cut(room), GridColumn(("load case",), text=True))))
        for room in range(LEAST_NAME, longest + 1)
    }
    fewest = max(room for room, count in blocks.items() if count == min(blocks.values()))
    for block in blocks_of(lines_of(names, GridColumn(("load case",), name=True))):
        assert [split(line)[0] for line in block[1:]] == cut(fewest)


def test_a_table_is_as_wide_as_what_is_printed():
    grid = Grid([GridColumn(("key",)), *(GridColumn((f"column {n}",)) for n in range(20))], [["0"] * 21])
    for width in (80, 100, 120):
        with printed_at(width):
            assert layout(grid) == layout(grid, width)
            assert width - 12 < max(map(len, layout(grid))) <= width
    assert layout(grid) == layout(grid, 80)


def test_a_heading_stands_in_the_middle_of_its_columns_and_a_cell_may_run_over_them():
    columns = [GridColumn(text=True), *under(("steer",), [GridColumn(("left",)), GridColumn(("right",))])]
    rows = [["caster", "12.00", "12.00"], ["toe total", "-0.20", None]]
    assert layout(Grid(columns, rows)) == [
        "                steer",
        "              left  right",
        "caster       12.00  12.00",
        "toe total       -0.20",
    ]


@pytest.mark.parametrize(
    ("columns", "rows", "said"),
    [
        ([GridColumn(), GridColumn()], [["a"]], "a row of 1 cells in a table of 2 columns"),
        ([GridColumn(), GridColumn()], [["a", None]], "no cell runs on"),
        ([GridColumn((None,)), GridColumn()], [["a", "b"]], "no cell runs on"),
    ],
)
def test_a_grid_refuses_what_is_no_table(columns, rows, said):
    with pytest.raises(ValueError, match=said):
        Grid(columns, rows)


def test_a_long_text_is_wrapped_under_itself_beside_numbers_at_the_right():
    lines = listing([("a_deg", "deg", "word " * 12), ("longer_n", "N", "")], 60)
    assert max(map(len, lines)) <= 60
    assert lines[1].index("word") == lines[0].index("word")
    assert lines[2] == "longer_n  N"
    assert listing([("1", "one"), ("12", "two")], numbered=True) == [" 1  one", "12  two"]


def test_a_long_name_is_cut_with_an_ellipsis():
    assert shorten("as-delivered", 12) == "as-delivered"
    assert shorten("as-delivered", 11) == "as-deliver…"


# The tables of the program, with numbers that no kart has.

ABSURD = (1e300, -1e-300, -123456.789, 7217.0, 0.0, -0.004, 9999999.5)


WHEEL_ROWS = {(f.label, f.unit.text) for f in (*STRAIGHT_AHEAD, JACKING_RIGID)}


@pytest.fixture(scope="module")
def run():
    scenario = scenarios.load()
    return asked.run(replace(scenario, handwheel_deg=(-30.0, 30.0, 7)), "as-delivered", ["standing"])


def upset(named, shift):
    """Numbers by name with absurd values, some of them unknown."""
    found = {}
    for n, (name, one) in enumerate(named.items(), shift):
        values = np.resize(np.roll(ABSURD, n), one.values.shape)
        known = np.resize(np.arange(values.size) % 5 != n % 5, values.shape)
        found[name] = replace(one, values=values, known=known)
    return found


def assert_a_table(lines, rows, columns, keys):
    """So many rows, each with all its cells apart, in blocks that each have the keys, within the width."""
    assert max(map(len, lines)) <= TABLE_WIDTH
    blocks = [[split(line) for line in block[-rows:]] for block in blocks_of(lines)]
    for n in range(rows):
        assert len({tuple(block[n][:keys]) for block in blocks}) == 1
        assert sum(len(block[n]) - keys for block in blocks) == columns - keys


@pytest.mark.parametrize("shift", range(7))
def test_tables_through_lock_stand_apart_whatever_the_numbers(run, shift):
    steers = {name: column for name, column in run.columns.items() if name.startswith("steer")}
    mad = SimpleNamespace(handwheel_deg=run.handwheel_deg, columns={**upset(run.columns, shift), **steers})
    assert_a_table(geometry_table(mad), 7, 14, 1)
    made = {"stands": run.cases[0].stands, "rests_twice_at_deg": [], "falls_at_deg": []}
    case = SimpleNamespace(columns=upset(run.cases[0].columns, shift), **made)
    assert_a_table(standing_table(mad, case), 7, 14, 1)


@pytest.mark.parametrize("shift", range(7))
def test_the_headline_block_and_the_cases_stand_apart_whatever_the_numbers(run, shift):
    figures = {name: replace(one, known=np.asarray(True)) for name, one in upset(run.headline, shift).items()}
    lines = headline([SimpleNamespace(name=name, headline=figures) for name in ("a", "n" * 60, "b c")])
    lines = lines[: -len(filled(NOTES))]
    assert max(map(len, lines)) <= TABLE_WIDTH
    rows = [split(line) for block in blocks_of(lines) for line in block[2:]]
    assert {tuple(row[:2]) for row in rows} == {("toe total", "deg"), ("toe total", "mm"), *WHEEL_ROWS}
    assert sum(len(row) - 2 for row in rows) == 3 * (2 * len(WHEEL_ROWS) + 2)
    of_case = upset(run.cases[0].headline, shift)
    known = {name: replace(one, known=np.asarray(True)) for name, one in of_case.items()}
    cases = [SimpleNamespace(name="y" * 60, headline=known, at_deg=123.4)]
    assert_a_table(case_summary(SimpleNamespace(cases=cases)), 2, 11, 2)


@pytest.mark.parametrize("shift", range(7))
def test_tables_of_differences_stand_apart_whatever_the_numbers(shift):
    scenario = replace(scenarios.load(), handwheel_deg=(-30.0, 30.0, 7))
    compared = compare(scenario, "as-delivered", ["more-caster"], ["standing", "slow corner"], None)
    [against] = compared.settings
    ways = {way: _mad(left, shift) for way, left in against.ways.items()}
    mad = replace(against, ways=ways, name="n" * 60)
    compared = replace(compared, settings=[mad, mad, mad], base="b" * 60)
    assert_a_table(compare_tables.upset_table(compared, mad), 15, 9, 3)
    assert_a_table(compare_tables.differences_table(compared, mad, "reset"), 7, 12, 1)
    assert_a_table(compare_tables.case_lock_table(compared, mad, "reset")[1:], 7, 5, 1)
    assert_a_table(compare_tables.headline(compared, "reset")[1:], 18, 9, 3)
    lines = compare_tables.case_summary(compared, "reset")
    assert max(map(len, lines)) <= TABLE_WIDTH


def _mad(left, shift):
    def differences(found):
        made = {}
        for n, (name, one) in enumerate(found.items(), shift):
            base, now = (np.resize(np.roll(ABSURD, n + k), one.now.shape) for k in (0, 3))
            made[name] = replace(one, base=base, now=now, known=np.broadcast_to(True, now.shape))
        return made

    cases = {case: differences(found) for case, found in left.cases.items()}
    figures = {case: differences(found) for case, found in left.case_figures.items()}
    return replace(
        left, figures=differences(left.figures), curves=differences(left.curves), cases=cases,
        case_figures=figures,
    )  # fmt: skip


# As found on the command line: each of these printed cells that touched.


def test_a_lock_next_to_nothing_has_radii_apart_from_what_stands_beside_them(capsys):
    text = printed(capsys, "sweep", "--lock", "-0.02", "0.02", "--positions", "5", "--tables", "--wide")
    rows = [split(line) for line in text.splitlines() if re.match(r" *-?0\.0\d  ", line)]
    assert [len(row) for row in rows] == [14] * 10
    assert [row[-1] for row in rows[:5]] == ["-7217.0", "-14434.0", "-", "14434.0", "7217.0"]
    assert [row[0] for row in rows[:5]] == ["-0.02", "-0.01", "0.00", "0.01", "0.02"]


@pytest.mark.parametrize(
    ("kit", "fitted", "shown"),
    [
        (
            {1.0: 1.04163, 2.0: 1.99586},
            "top=1.04163@30,bottom=1.99586@345",
            ["1.04163", "1.99586"],
        ),
        ({}, "top=1.993mm@210,bottom=3@90", ["1.993", "3"]),
    ],
)
def test_a_bush_of_many_digits_stands_apart_in_the_list_of_candidates(capsys, tmp_path, kit, fitted, shown):
    text = scenarios.builtin_text("training-kart")
    for was, now in kit.items():
        text = text.replace(f"]]\nrated_deg = {was}", f"]]\nrated_deg = {now}")
    (tmp_path / "kart.toml").write_text(text.replace("clock_step_deg = 15.0", "clock_step_deg = 45.0"))
    want = ("--want", "caster_left_deg=now", "--want", "camber_left_deg=now")
    assert cli.main(["choose", str(tmp_path / "kart.toml"), "--both", fitted, *want, "--tables"]) == 0
    lines = capsys.readouterr().out.partition("Meets all")[2].splitlines()
    rows = [split(line) for line in lines if re.match(r" *\d+  +\d+\.\d\d  ", line)]
    assert [cell.split()[0] for cell in rows[0][2:4]] == shown
    assert {len(row) for row in rows} == {8}
