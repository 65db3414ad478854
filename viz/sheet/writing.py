"""A bench sheet to a file: the kind follows from the name's suffix, whole or not at all."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from kinematics.parts import Setting
from scenarios import Scenario
from viz.files import Destination, Output, check_suffix, check_targets, write_all
from viz.sheet.blocks import Sheet
from viz.sheet.content import sheet_of

SUFFIXES = ("html", "pdf")
PAPERS = ("a4", "letter")
OPTION = "sheet"


def render(sheet: Sheet, suffix: str, paper: str = "a4") -> bytes:
    """The sheet as a file of one of SUFFIXES; paper ('a4' or 'letter') is that of the PDF."""
    if suffix == "html":
        from viz.sheet.html import html

        return html(sheet).encode()
    from viz.sheet.pdf import pdf

    return pdf(sheet, paper)


def write(
    path: str | Path,
    scenario: Scenario,
    base: str | Setting,
    new: str | Setting,
    *,
    on: date | None = None,
    paper: str = "a4",
    option: str = OPTION,
) -> Sheet:
    """Write the bench sheet for going from base to new as .html or .pdf; returns what was written.

    base and new are names of the scenario's settings, or settings; on is the date printed. Raises
    Refusal or ScenarioError with one line, before anything is written, where path or settings are no good;
    option stands before the path in it.
    """
    if paper not in PAPERS:
        raise ValueError(f"paper must be one of {', '.join(PAPERS)}, not {paper}")
    target = Destination(option, str(path))
    suffix = check_suffix(target, SUFFIXES)
    check_targets([target], [scenario.source])
    sheet = sheet_of(scenario, base, new, on)
    write_all([Output(target, [render(sheet, suffix, paper)])])
    return sheet
