"""A lesson played on the page: one step of it at a time, as a scene with the words said beside it."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Any

from scenarios.lessons.lesson import BUILT_IN, Lesson, lesson
from viz.browser import karts
from viz.browser.chosen.choices import ChoiceError, number, one_of
from viz.browser.memory import Memory
from viz.lesson.scenes import caption, drawn, scale, whose

POSITIONS = 25
"""Lock positions on the way of a step that turns."""

_lesson = lru_cache(maxsize=len(BUILT_IN))(lesson)


def step(name: object, place: object, memory: Memory) -> dict[str, Any]:
    """A step of a built-in lesson, counted from 0. Raises Refusal for one that there is not."""
    told: Lesson = _lesson(one_of(name, BUILT_IN, "lesson"))
    at = int(number(place, "step", "whole steps"))
    if not 0 <= at < len(told.steps):
        raise ChoiceError(f"the lesson has {len(told.steps)} steps, and no step {at + 1}")
    this = told.steps[at]
    whole = drawn(told, at, POSITIONS if this.lock_deg[0] != this.lock_deg[1] else 1)
    data = replace(whole, cameras={this.view: whole.cameras[this.view]}, stories=())
    meshes: dict[str, Any] = {}
    is_fresh = memory.outgrown()
    return {
        "name": name,
        "title": told.title,
        "of": told.scenario.title,
        "step": at,
        "steps": len(told.steps),
        "heading": this.title,
        "said": caption(this),
        "shown": whose(this) + scale(this),
        "view": this.view,
        "lock_deg": data.handwheel_deg.tolist(),
        "kart": karts.drawn(data, memory, meshes),
        "question": None if told.question is None else vars(told.question),
        "meshes": meshes,
        "fresh": is_fresh,
    }
