"""A lesson as a film: each step turned through its lock, held while it is read, then the question."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from textwrap import fill

from scenarios.files import replacing
from scenarios.lessons.lesson import Lesson
from viz.canvas.encoder import Image, encode
from viz.canvas.movie import SIZE, Progress, canvas
from viz.lesson.scenes import asked, caption, drawn, titled
from viz.look.palette import LIGHT, Theme
from viz.scene.data import SceneData

FPS = 12
MOVED = 25
"""Lock positions on the way of a step."""
MOVING = 0.5
"""Share of a step's time for which it turns; then it is held."""
READ = 96
"""Letters in a line of what is said."""
ASKED = 7.0
"""Seconds for the question, and as many for its answer."""


def write(path: str | Path, lesson: Lesson, theme: Theme = LIGHT, progress: Progress | None = None) -> int:
    """Write the film, an .mp4, and return its length in seconds; see movie.write for what is raised."""
    count = sum(frames(step.seconds) for step in lesson.steps)
    count += 2 * frames(ASKED) if lesson.question else 0
    with replacing(path) as aside:
        encode(aside, _shots(lesson, theme, count, progress), count, SIZE, FPS)
    return round(count / FPS)


def frames(seconds: float) -> int:
    """How many pictures so many seconds take."""
    return max(1, round(FPS * seconds))


def _shots(lesson: Lesson, theme: Theme, count: int, progress: Progress | None) -> Iterator[Image]:
    done = 0
    for data, order in _scenes(lesson):
        with canvas(data, theme, SIZE, next(iter(data.cameras)), insets=False, still=False) as picture:
            last, shot = -1, None
            for index in order:
                if index != last or shot is None:
                    last, shot = index, picture(index)
                done += 1
                yield shot
                if progress is not None:
                    progress(done, count)


def _scenes(lesson: Lesson) -> Iterator[tuple[SceneData, list[int]]]:
    """Every scene of the film, its own view first, with the lock positions shown in their order."""
    every = len(lesson.steps)
    for place, step in enumerate(lesson.steps):
        first, last = step.lock_deg
        whole = drawn(lesson, place, MOVED if first != last else 1)
        data = titled(whole, f"{place + 1} of {every}: {step.title}", fill(caption(step), READ))
        data = replace(data, cameras={step.view: whole.cameras[step.view]})
        yield data, path_order(data.count, frames(step.seconds))
    if lesson.question:
        for said in asked(lesson.question):
            lines = "\n".join(fill(line, READ) for line in said.split("\n"))
            words = titled(data, "A question", lines)
            yield words, [words.count - 1] * frames(ASKED)


def path_order(positions: int, pictures: int) -> list[int]:
    """Which lock position each picture of a step shows: turned at first, then held at the end of its way."""
    moving = max(1.0, MOVING * pictures)
    return [min(positions - 1, int(positions * at / moving)) for at in range(pictures)]
