"""A lesson's steps as the page is told them: the same scene and words as in the lesson's film and file."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from scenarios.errors import Refusal
from scenarios.lessons.lesson import BUILT_IN, lesson, titles
from viz.browser import replies
from viz.browser.asked import lessons
from viz.lesson.scenes import caption


def test_every_step_has_the_words_and_the_lock_of_its_lesson_and_no_mesh_twice() -> None:
    memory, told = replies.Memory(), lesson(BUILT_IN[1])
    sent: list[str] = []
    for at, step in enumerate(told.steps):
        shown = lessons.step(BUILT_IN[1], at, memory)
        assert shown["said"] == caption(step)
        assert (shown["step"], shown["steps"], shown["title"]) == (at, len(told.steps), told.title)
        assert np.allclose((shown["lock_deg"][0], shown["lock_deg"][-1]), step.lock_deg)
        assert list(shown["kart"]["cameras"]) == [step.view]
        sent += shown["meshes"]
        assert {body["mesh"] for body in shown["kart"]["solid"]} <= set(sent)
    assert len(sent) == len(set(sent))
    assert titles()[BUILT_IN[1]] == told.title


@pytest.mark.parametrize(
    ("name", "step", "said"),
    [
        ("gone", 0, "lesson: 'gone' is not one of why"),
        (BUILT_IN[1], 40, "steps, and no step 41"),
        (BUILT_IN[1], -1, "no step 0"),
        (BUILT_IN[1], None, "step: None is not a number"),
        (["x"], 0, "lesson: "),
    ],
)
def test_a_step_that_there_is_not_is_refused_in_one_line(name: Any, step: Any, said: str) -> None:
    with pytest.raises(Refusal) as refused:
        lessons.step(name, step, replies.Memory())
    assert said in str(refused.value)
