"""Sentences of care come from one list, whatever the surface."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import scenarios
import viz
from viz.browser import replies
from viz.cli import main as cli
from viz.sheet import sheet_of
from viz.sheet.blocks import Para
from viz.words import cautions

PICKED = (cautions.BEFORE_WORK, cautions.BEFORE_READING, cautions.WITH_WORK, cautions.BESIDE_FIGURES)


def test_what_a_surface_picks_is_of_the_list():
    assert all(set(picked) <= set(cautions.ALL) for picked in PICKED)
    assert len(set(cautions.ALL)) == len(cautions.ALL)


def test_the_sheet_and_the_page_show_theirs_word_for_word():
    book = scenarios.load()
    blocks = [b for s in sheet_of(book, "as-delivered", "more-caster").sections for b in s.blocks]
    told = ["".join(map(str, b.line)) for b in blocks if isinstance(b, Para) and b.role == "caution"]
    assert told == [" ".join(cautions.BEFORE_WORK)]
    assert replies.page(book)["cautions"] == list(cautions.BESIDE_FIGURES)


@pytest.mark.parametrize("command", [[], ["sheet"]])
def test_help_says_it_in_a_line(capsys, command):
    with pytest.raises(SystemExit):
        cli.main([*command, "--help"])
    assert cautions.BRIEF in " ".join(capsys.readouterr().out.split())


def test_no_other_file_has_a_caution_of_its_own():
    """Words that only a caution uses stand in the list alone; a work order may speak of stands."""
    own = re.compile(r"maker's manual|permission to drive|rules of your event|jack alone")
    root = Path(viz.__file__).parent
    files = [f for kind in ("*.py", "*.js", "*.html") for f in root.rglob(kind)]
    found = {f.relative_to(root).as_posix() for f in files if own.search(f.read_text(encoding="utf-8"))}
    allowed = {"words/cautions.py", "sheet/work.py"}  # 'take it from the maker's manual' in a blank
    assert found <= allowed
