"""Text of help, set to a width."""

import pytest

from viz.words.helptext import Layout

TEXT = """\
A paragraph that is filled anew,
whatever its lines were.
top, bottom   what it means, which
              goes on here
hub           another

A second paragraph:
  lockarc sweep --both top=2@180,bottom=1@0,hub=5"""


def filled(monkeypatch, width):
    monkeypatch.setenv("COLUMNS", str(width))
    layout = Layout("lockarc")
    layout.add_text(TEXT)
    return layout.format_help().rstrip("\n").splitlines()


def test_paragraphs_are_filled_entries_hang_and_examples_stay(monkeypatch):
    assert filled(monkeypatch, 82) == [
        "A paragraph that is filled anew, whatever its lines were.",
        "top, bottom   what it means, which goes on here",
        "hub           another",
        "",
        "A second paragraph:",
        "  lockarc sweep --both top=2@180,bottom=1@0,hub=5",
    ]


def test_what_is_too_long_is_broken_behind_a_comma(monkeypatch):
    lines = filled(monkeypatch, 36)
    assert "top, bottom   what it means, which" in lines
    assert "              goes on here" in lines
    assert lines[-2:] == ["  lockarc sweep --both", "      top=2@180,bottom=1@0,hub=5"]
    assert filled(monkeypatch, 32)[-2:] == ["      top=2@180,bottom=1@0,", "      hub=5"]


@pytest.mark.parametrize("width", [1, 5, 30])
def test_a_terminal_of_hardly_any_width_is_no_fault(monkeypatch, width):
    assert max(map(len, filled(monkeypatch, width))) <= 30
