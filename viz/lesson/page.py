"""A lesson as one HTML file that needs no network: a step at a time, without scripts all in their order."""

from __future__ import annotations

from html import escape
from pathlib import Path

import numpy as np

from scenarios.files import put
from scenarios.lessons.lesson import Lesson, LessonQuestion, LessonStep
from viz.canvas.strips import SIZE, Film, Progress, strips
from viz.lesson.scenes import bare, caption, drawn, scale, whose
from viz.page.shell import document, styles
from viz.page.svg import tag
from viz.words import cautions

WWW = Path(__file__).parent / "www"
Pictures = dict[str, list[str | None]]
"""By name of the theme, the start of a step's way and its end, or one picture where it does not turn."""


def page(lesson: Lesson, progress: Progress | None = None, size: tuple[int, int] = SIZE) -> str:
    """The page as text; progress is called with steps drawn and all there are. Raises as `scenes.drawn`."""
    drawn_steps = []
    for place, step in enumerate(lesson.steps):
        drawn_steps.append(_pictures(lesson, place, step, size))
        if progress is not None:
            progress(place + 1, len(lesson.steps))
    pairs = zip(lesson.steps, drawn_steps, strict=True)
    steps = [_step(n, len(lesson.steps), step, shown, size) for n, (step, shown) in enumerate(pairs, 1)]
    asked = [] if lesson.question is None else [_question(lesson.question)]
    caution = tag("p", escape(" ".join(cautions.ALL[:2])), class_="note")
    header = tag(
        "header", tag("h1", escape(lesson.title)) + tag("p", escape(lesson.scenario.title), class_="note")
    )
    body = f"{header}<main>{''.join([*steps, *asked])}</main>{_turning()}{tag('footer', caution)}"
    script = (WWW / "lesson.js").read_text(encoding="utf-8")
    return document(lesson.title, body, styles(WWW / "lesson.css"), script)


def write(path: str | Path, lesson: Lesson, progress: Progress | None = None) -> int:
    """Write the page, whole or not at all, and return its size in bytes."""
    content = page(lesson, progress).encode()
    put(path, content)
    return len(content)


def _pictures(lesson: Lesson, place: int, step: LessonStep, size: tuple[int, int]) -> Pictures:
    first, last = step.lock_deg
    data = bare(drawn(lesson, place, 2 if first != last else 1))
    films = strips({"": Film(data, np.ones(data.count, dtype=bool), True)}, size, step.view)
    return {theme: shown[""] for theme, shown in films.items()}


def _step(number: int, every: int, step: LessonStep, shown: Pictures, size: tuple[int, int]) -> str:
    width, height = size
    figures = []
    for at, angle in enumerate(step.lock_deg[-len(shown["light"]) :]):
        said = f"{whose(step)}, handwheel {_lock(angle)}{scale(step)}"
        alt = f"{step.title}: {said}"
        pictures = "".join(
            f'<img class="{theme}" alt="{escape(alt)}" width="{width}" height="{height}" src="{row[at]}">'
            for theme, row in shown.items()
        )
        figures.append(tag("figure", pictures + tag("figcaption", escape(said))))
    inside = tag("h2", f"{number} of {every}: {escape(step.title)}") + tag(
        "p", escape(caption(step)), class_="said"
    )
    return tag("section", inside + tag("div", "".join(figures), class_="views"), class_="step")


def _lock(angle: float) -> str:
    return "straight ahead" if abs(angle) < 0.05 else f"{abs(angle):g}° {'left' if angle > 0.0 else 'right'}"


def _question(question: LessonQuestion) -> str:
    answers = tag("ol", "".join(tag("li", escape(answer)) for answer in question.answers))
    right = tag("p", f"<b>{escape(question.answers[question.right])}</b>")
    told = f"<details><summary>The answer</summary>{right}{tag('p', escape(question.because))}</details>"
    inside = tag("h2", "A question") + tag("p", escape(question.ask), class_="said") + answers + told
    return tag("section", inside, class_="step")


def _turning() -> str:
    """Buttons that turn the steps, which only a script can."""
    buttons = "".join(
        tag("button", text, type="button", id=name) for name, text in (("back", "◀ Back"), ("next", "Next ▶"))
    )
    return tag("nav", f"{buttons}", aria_label="Steps", hidden="")
