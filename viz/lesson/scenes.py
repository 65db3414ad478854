"""The steps of a lesson as scenes, with the words and the figures of the kart that they show."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from kinematics.figures import catalog
from kinematics.lock import sweep
from kinematics.parts import GRAVITY
from kinematics.standing.stand import stand
from scenarios.errors import Refusal, suggestion
from scenarios.lessons.lesson import FIGURE, IN_KG, Lesson, LessonQuestion, LessonStep
from viz.scene import scene
from viz.scene.data import SceneData
from viz.words.numbers import PAGE, number

MOST_DIGITS = 1
"""Decimals; nobody is told hundredths."""


def caption(step: LessonStep) -> str:
    """What is said of a step, its figures as numbers."""

    def told(asked: str) -> str:
        value = step.figures[asked]
        if asked.endswith(IN_KG):
            return number(None if value is None else value / GRAVITY, MOST_DIGITS, hand=PAGE)
        return number(value, min(catalog.address(asked).figure.digits, MOST_DIGITS), hand=PAGE)

    return FIGURE.sub(lambda found: told(found[1]), step.caption)


def whose(step: LessonStep) -> str:
    """Whose picture a step shows: its setting and how it stands."""
    return f"{step.setting}, {step.case or 'frame held still'}"


def scale(step: LessonStep) -> str:
    """How much larger than it is the leaning is drawn, to be said behind; '' where it is to scale."""
    return "" if step.times == 1.0 else f"; leaning and air drawn {step.times:g} times as large"


def drawn(lesson: Lesson, place: int, positions: int) -> SceneData:
    """A step's scene at so many lock positions of its path, from its start to its end, as its view shows it.

    Raises a Refusal, one line, for a view that the scene has not and for what cannot be drawn.
    """
    step, where = lesson.steps[place], f"{lesson.source}: step[{place + 1}]"
    lock = np.radians(np.linspace(*step.lock_deg, positions))
    swept = sweep(lesson.scenario.kart, lesson.scenario.settings[step.setting], lock)
    if not swept.reach.all():
        raise Refusal(f"{where}.lock_deg: a tie rod of setting '{step.setting}' binds on this way")
    standing, case = None, ""
    if step.case is not None:
        [load_case] = lesson.scenario.cases([step.case])
        standing, case = stand(swept, load_case), step.case
    try:
        data = scene.build(swept, step.setting, False, standing, case, step.times)
    except ValueError as error:
        raise Refusal(f"{where}: {error}") from error
    if step.view not in data.views:
        raise Refusal(f"{where}.view '{step.view}' is unknown{suggestion(step.view, data.views)}")
    return data.seen_from(step.view)


def asked(question: LessonQuestion) -> tuple[str, str]:
    """The question with its answers, and then with the right one and why."""
    letters = [f"{letter}  {answer}" for letter, answer in zip("abcdef", question.answers, strict=False)]
    right = letters[question.right]
    return "\n".join([question.ask, *letters]), "\n".join([question.ask, right, question.because])


def titled(data: SceneData, title: str, said: str) -> SceneData:
    """A scene with a lesson's words for its own: a title above, what is said below, the scale last."""
    return replace(data, captions=(title,) * data.count, legend=data.stated, stated=said)


def bare(data: SceneData) -> SceneData:
    """A scene without the words that stand beside its picture."""
    return replace(data, captions=("",) * data.count, legend="", stated="")
