"""A sheet of readings to take holds each of them once, in the order and with the numbers of their file."""

from __future__ import annotations

import csv
import io
import re
import shlex
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pytest

import scenarios
from scenarios.gauged.file import readings_of
from scenarios.gauged.record import Reading
from tests.helpers.accessibility import serious
from tests.helpers.command import printed, refused, run_here
from tests.helpers.sheet.cases import ON, readings_sheet
from tests.helpers.sheet.pages import Page
from viz.sheet import render
from viz.sheet.blank import blank_sheet
from viz.sheet.blocks import Para, Table
from viz.words import cautions

ASKED = {"an hour": ("training-kart", "--minutes", "60"), "all": ("published-kart", "--all")}


@pytest.fixture(scope="module", params=ASKED)
def written(request, tmp_path_factory):
    """The same readings as sheet and as file, in a folder."""
    folder = tmp_path_factory.mktemp("blank")
    for suffix in ("html", "pdf", "csv"):
        code, *_ = run_here("measure", *ASKED[request.param], "--out", str(folder / f"blank.{suffix}"))
        assert code == 0
    return folder


def filed(folder: Path) -> list[dict[str, str]]:
    """The lines of the file of readings."""
    lines = (folder / "blank.csv").read_text().splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def told(row: dict[str, str]) -> tuple[str, ...]:
    """What the sheet says of a line of the file: what, where and handwheel, or the key of a number."""
    if row["what"] == "number":
        return (row["where"],)
    turned = float(row["handwheel_deg"])
    sign, way = ("+", "left") if turned > 0.0 else ("−", "right")
    at = f"{sign}{abs(turned):g} deg, {way}" if turned else "straight ahead"
    return row["what"], row["where"].replace("_", " "), at


def seen(cells: list[str]) -> tuple[str, ...]:
    """The same of a row of a table as it is read off the sheet."""
    flat = [" ".join(cell.split()) for cell in cells]
    if len(flat) == 6:
        return (flat[1],)
    return flat[1].partition(",")[0], flat[2].partition(" (")[0], flat[3]


def html_rows(text: str) -> list[list[str]]:
    rows = re.findall(r'<tr role="row">(<th scope="row".*?)</tr>', text)
    return [[re.sub(r"<[^>]+>", "", cell) for cell in re.findall(r"<t[hd].*?</t[hd]>", row)] for row in rows]


def pdf_rows(path: Path | io.BytesIO) -> list[list[str]]:
    with pdfplumber.open(path) as document:
        tables = [table for page in document.pages for table in page.extract_tables()]
    rows = [[cell or "" for cell in row] for table in tables for row in table]
    return [row for row in rows if len(row) in (6, 7) and row[0].isdigit()]


@pytest.mark.parametrize("suffix", ["html", "pdf"])
def test_every_reading_is_on_the_sheet_once_in_the_order_of_the_file(written, suffix):
    path, file = written / f"blank.{suffix}", filed(written)
    rows = html_rows(path.read_text()) if suffix == "html" else pdf_rows(path)
    assert [int(row[0]) for row in rows] == list(range(1, len(file) + 1))
    assert [seen(row) for row in rows] == [told(row) for row in file]
    assert all(row[-2:] == ["", ""] for row in rows)  # to be written in


def test_what_is_under_and_on_the_kart_is_the_numbers_of_the_file(written):
    """A part of the sheet begins where the file's setup changes, with its shims, its weight and its place."""
    marked = [(key, value) for key, value, _ in Page((written / "blank.html").read_text()).marked]
    setup: dict[str, float] = {}
    for key, value in marked:
        if key.startswith("setup_"):
            setup[key.partition("_")[2]] = value
    at, before, found = 0, None, {}
    for row in filed(written):
        said = {k: float(v) for k, v in row.items() if k.startswith(("under_", "weight_")) and v}
        kind = (row["what"] == "number", row.get("frame_held", ""), tuple(said.items()))
        at += kind != before
        before = kind
        found |= {f"{at}_{key}": value for key, value in said.items() if value}
    assert setup == found


def parts_of(content: bytes) -> tuple[list[tuple[str, int]], list[tuple[str, int]]]:
    """Headings of a PDF's parts and the captions of their tables, each with its page."""
    with pdfplumber.open(io.BytesIO(content)) as document:
        texts = {page.page_obj.pageid: page.extract_text() for page in document.pages}
        marks = [(title, dest[0].objid) for _, title, dest, *_ in document.doc.get_outlines()]
    headings = [(title, page) for title, page in marks if title[0].isdigit()]
    begun = r"^Reading(?:s (\d+) to)? (\d+)\nNo\..*\n(?:.*\n)??(\d+) "  # caption, head, first row
    captions = [(at, page) for page, text in texts.items() for at in re.findall(begun, text, re.MULTILINE)]
    assert all((first or last) == row for (first, last, row), _ in captions)
    return headings, captions


def test_a_heading_stands_on_the_page_on_which_its_readings_begin(written):
    headings, captions = parts_of((written / "blank.pdf").read_bytes())
    assert len(headings) > 2
    assert [page for _, page in headings] == [page for _, page in captions]


@pytest.mark.parametrize(
    ("before", "count"), [*((n, 30) for n in range(1, 20, 4)), (1, 22), (6, 20), (11, 23)]
)
def test_wherever_on_the_page_a_long_part_would_begin(before, count):
    """Its heading, its drawing and the first of its readings are on one page, and no row is in two."""
    one = Reading("scale_kg", "rear_left", "as-delivered")
    long = [replace(one, under_mm=(0.0, 0.0, 0.0, 5.0))] * count
    sheet = blank_sheet(scenarios.load(), [one] * before + long, "again", "fit", ON)
    content = render(sheet, "pdf")
    headings, captions = parts_of(content)
    assert [page for _, page in headings] == [page for _, page in captions]
    rows = pdf_rows(io.BytesIO(content))
    assert [int(row[0]) for row in rows] == list(range(1, before + count + 1))
    assert all(row[4] == "kg" for row in rows)


def test_what_is_typed_back_is_read_as_it_is(written, tmp_path, monkeypatch):
    """The line on the sheet writes the file; what is typed behind a number is that reading's value."""
    monkeypatch.chdir(tmp_path)
    steps = re.search(r'<ol class="steps".*?</ol>', (written / "blank.html").read_text())
    assert steps
    again, fit = re.findall(r"lockarc ([^<]+)<", steps[0])
    assert run_here(*shlex.split(again))[0] == 0
    lines = Path("readings.csv").read_text().splitlines()
    assert lines == (written / "blank.csv").read_text().splitlines()
    head = next(n for n, line in enumerate(lines) if not line.startswith("#"))
    place = lines[head].split(",").index("value")
    for n, line in enumerate(lines[head + 1 :], 1):
        cells = next(csv.reader([line]))
        cells[place] = f"{n / 100}"
        out = io.StringIO()
        csv.writer(out).writerow(cells)
        lines[head + n] = out.getvalue().strip()
    Path("readings.csv").write_text("\n".join(lines))
    kart, file = shlex.split(fit)[1:]
    values = [one.value for one in readings_of(Path(file), scenarios.load(kart))]
    assert values == [n / 100 for n in range(1, len(values) + 1)]
    assert len(values) == len(filed(written))


def test_cautions_stand_first_word_for_word():
    first = readings_sheet().sections[0].blocks[0]
    assert isinstance(first, Para)
    assert first.role == "caution"
    assert first.line == (" ".join((cautions.READING, *cautions.BEFORE_READING)),)


def test_each_kind_is_told_once_and_only_those_read():
    sheet = readings_sheet()
    cards = [card.name for card in sheet.sections[1].blocks[0].cards]
    read = [
        cell.partition(",")[0]
        for s in sheet.sections
        for block in s.blocks
        if isinstance(block, Table) and block.head[1] == "What"
        for _, (cell,), *_ in block.rows
    ]
    assert cards == list(dict.fromkeys(read))


def test_a_turn_plate_a_remark_and_another_setting_are_told():
    scenario = scenarios.load()
    plate = Reading("camber_deg", "left", "as-delivered", plate=("right", -20.0), note="after the bend")
    sheet = blank_sheet(scenario, [plate, replace(plate, setting="more-caster")], "again", "fit", ON)
    tables = [b for s in sheet.sections for b in s.blocks if isinstance(b, Table)]
    row = ["".join(getattr(p, "text", p) for p in cell) for cell in tables[0].rows[0]]
    at = "−20 deg on the right plate"
    assert row[:5] == ["1", "camber_deg, + top outward, after the bend", "left (wheel 1)", at, "deg"]
    assert [s.title for s in sheet.sections[2:4]] == [
        "1. On its own wheels, as-delivered",
        "2. On its own wheels, more-caster",
    ]


def test_a_reading_of_the_frame_and_one_of_a_kart_that_is_driven_are_told():
    driven = Reading("torsion_deg", "frame", "as-delivered", lateral_g=0.5)
    sheet = blank_sheet(scenarios.load(), [driven], "again", "fit", ON)
    card, table = sheet.sections[2].blocks
    assert isinstance(table, Table)
    assert table.rows[0][2] == ("frame",)
    lines = ["".join(getattr(piece, "text", piece) for piece in line) for line in card.cards[0].lines]
    assert any(line.startswith("0.5 g into the turn") for line in lines)
    assert render(sheet, "pdf").startswith(b"%PDF-")


def test_the_sheet_is_written_by_the_command_and_another_kind_refused(capsys, tmp_path):
    place = tmp_path / "s.pdf"
    said = printed(capsys, "measure", "--minutes", "20", "--out", str(place))
    assert re.search(rf"{re.escape(str(place))}: \d+ readings to take\n$", said)
    line = refused(capsys, "measure", "--out", str(tmp_path / "s.doc"))
    assert all(suffix in line for suffix in (".toml", ".csv", ".html", ".pdf"))


def test_the_same_readings_give_the_same_bytes():
    readings_sheet.cache_clear()
    first = readings_sheet()
    readings_sheet.cache_clear()
    for suffix in ("html", "pdf"):
        assert render(first, suffix) == render(readings_sheet(), suffix)


@pytest.mark.browser
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_serious_for_who_has_the_page_read_out(browser, tmp_path, scheme):
    path = tmp_path / "sheet.html"
    path.write_bytes(render(readings_sheet(), "html"))
    with browser.new_page(viewport={"width": 900, "height": 900}, color_scheme=scheme) as page:
        page.goto(path.as_uri())
        assert serious(page) == []
        names = page.evaluate("[...document.querySelectorAll('svg')].map(e => e.ariaLabel)")
    assert all(names)
    assert any("10 mm under" in name for name in names)
