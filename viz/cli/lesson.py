"""`lockarc lesson`: what a teacher shows and says, step by step, as a page or as a film with captions."""

from __future__ import annotations

import argparse
import os
from typing import TYPE_CHECKING, Any

from viz.cli.options.outputs import add_wide_argument
from viz.words.terminal import say

if TYPE_CHECKING:
    from scenarios.lessons.lesson import Lesson

DESCRIPTION = """\
Writes a lesson: pictures of the kart with what is said beside them, step by step, with the kart's own
numbers, and a question at the end. A page (.html) for a phone or a class, a film (.mp4), or played in
a window, where keys step it."""
EPILOG = """\
Without --out the steps are printed. A lesson of your own is a text file like the built-in ones, which
'lockarc lesson NAME --source' prints."""


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser("lesson", description=DESCRIPTION, epilog=EPILOG)
    parser.add_argument(
        "lesson",
        metavar="LESSON",
        nargs="?",
        default="why-the-inside-rear-lifts",
        help="a lesson file, or a built-in one: why-the-inside-rear-lifts (left out: this), what-a-bush-does",
    )
    parser.add_argument("--out", metavar="FILE", help="a page that steps .html, or a film .mp4")
    parser.add_argument("--window", action="store_true", help="play it in a window, its words printed too")
    parser.add_argument("--dark", action="store_true", help="the film, or the window, on a dark ground")
    parser.add_argument("--source", action="store_true", help="print a built-in lesson's file")
    add_wide_argument(parser)
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Read the lesson, then print its steps, play it, or write the page or film."""
    from scenarios.errors import Refusal
    from scenarios.lessons.lesson import BUILT_IN, HOME, lesson
    from viz.cli.viewing.picture import check_out, refusing

    source, out = str(arguments.lesson), arguments.out
    if arguments.window and (out is not None or arguments.source):
        raise Refusal(f"--window and {'--source' if out is None else '--out'} exclude each other")
    if arguments.dark and not arguments.window and (out is None or not out.lower().endswith(".mp4")):
        raise Refusal("--dark is for --window or --out FILE.mp4; a page follows its reader")
    if arguments.source:
        if source not in BUILT_IN:
            raise Refusal(f"--source prints a built-in lesson: {', '.join(BUILT_IN)}")
        say(*(HOME / f"{source}.toml").read_text(encoding="utf-8").splitlines())
        return 0
    if out is not None:
        check_out(out, ("html", "mp4"), None if source in BUILT_IN else source)
    read = lesson(source)
    if arguments.window:
        with refusing():
            _play(read, bool(arguments.dark))
        return 0
    if out is None:
        say(*_told(read))
        return 0
    with refusing():
        _write(out, read, bool(arguments.dark))
    return 0


def _play(read: Lesson, dark: bool) -> None:
    from viz.look.palette import DARK, LIGHT
    from viz.window import lesson as window
    from viz.words.width import laid

    def told(words: str) -> None:
        say(*(line for part in words.split("\n") for line in laid([part.strip()])), "")

    window.show(read, DARK if dark else LIGHT, told)


def _write(out: str, read: Lesson, dark: bool) -> None:
    from viz.canvas import gl
    from viz.files import writing
    from viz.look.palette import DARK, LIGHT
    from viz.words.numbers import number
    from viz.words.progress import progress_bar

    gl.require()
    with writing(out), progress_bar(os.path.basename(out)) as progress:
        if out.lower().endswith(".html"):
            from viz.lesson import page

            size = page.write(out, read, progress)
            told = f"{number(size / 1e6, 1)} MB"
        else:
            from viz.lesson import film

            told = f"{film.write(out, read, DARK if dark else LIGHT, progress)} s"
    say(f"{out}: {told}")


def _told(read: Lesson) -> list[str]:
    from viz.lesson.scenes import caption
    from viz.words.width import laid

    lines = [f"{read.title} ({read.scenario.title})"]
    for n, step in enumerate(read.steps, 1):
        lines += ["", *laid([f"{n}. {step.title}. {caption(step)}"])]
    if read.question:
        lines += ["", *laid([f"Question: {read.question.ask} {'; '.join(read.question.answers)}."])]
    return lines
