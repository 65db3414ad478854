"""A lesson read from its file: which kart it shows in what order, and what is said beside it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import degrees
from pathlib import Path
from typing import Any

from scenarios.ask.run import read
from scenarios.bundled import DATA, NAMES
from scenarios.errors import Refusal, ScenarioError, nearest
from scenarios.lessons.table import LESSON
from scenarios.loading import load
from scenarios.reading import parsed, tables_at
from scenarios.records import Scenario
from scenarios.schema.kinds import Fault

BUILT_IN = ("why-the-inside-rear-lifts", "what-a-bush-does")
"""The lessons that come with the program."""
HOME = DATA / "lessons"
IN_KG = " in kg"
"""Behind the address of a load that is to be told as a scale shows it."""
FIGURE = re.compile(r"\{([^{}]+)\}")
"""A figure in a caption: its typed address."""


@dataclass(frozen=True)
class LessonStep:
    """One step: what is shown, of a setting in a load case or, without one, of a front end held still."""

    title: str
    caption: str
    setting: str
    case: str | None
    view: str
    lock_deg: tuple[float, float]
    """Handwheel angles, from and to, deg, + left."""
    seconds: float
    times: float
    """How much larger the kart's leaning is drawn."""
    figures: Mapping[str, float | None]
    """The figures of its caption by typed address, each in its own unit; None where there is none."""


@dataclass(frozen=True)
class LessonQuestion:
    """What is asked at the end; right counts the answers from 0."""

    ask: str
    answers: Sequence[str]
    right: int
    because: str


@dataclass(frozen=True)
class Lesson:
    """A lesson and the kart it is about."""

    title: str
    scenario: Scenario
    steps: Sequence[LessonStep]
    question: LessonQuestion | None
    source: str


def lesson(source: str) -> Lesson:
    """The lesson of a built-in name or a file. Raises ScenarioError, one line, for what cannot be shown."""
    if source in BUILT_IN:
        text = (HOME / f"{source}.toml").read_text(encoding="utf-8")
        return lesson_of(parsed(text, source), source, HOME)
    path = Path(source)
    try:
        tables = tables_at(path)
    except FileNotFoundError:
        there_are = f"; built in are {', '.join(BUILT_IN)}"
        hint = nearest(path.name.removesuffix(".toml"), BUILT_IN) or there_are
        raise ScenarioError(f"{source}: no such file or built-in lesson{hint}") from None
    return lesson_of(tables, source, path.parent)


def titles() -> dict[str, str]:
    """The titles of the built-in lessons by name; nothing is solved for them."""
    files = {name: (HOME / f"{name}.toml").read_text(encoding="utf-8") for name in BUILT_IN}
    return {name: str(parsed(text, name)["title"]) for name, text in files.items()}


def said_of(view: str) -> tuple[str, str] | None:
    """Title and caption of the first built-in step seen from a view that names no figure of its kart."""
    for name in BUILT_IN:
        for step in parsed((HOME / f"{name}.toml").read_text(encoding="utf-8"), name)["step"]:
            if step["view"] == view and not FIGURE.search(step["caption"]):
                return step["title"], step["caption"]
    return None


def lesson_of(tables: Mapping[str, Any], source: str, folder: Path) -> Lesson:
    """A lesson of tables laid out like its file; a kart that is no built-in one is a file in the folder."""
    faults: list[Fault] = []
    found = LESSON.read(tables, (), faults)
    if faults:
        from scenarios.schema.refusal import one_line  # only a refusal needs it

        raise ScenarioError(f"{source}: {one_line(faults, LESSON)}")
    name = found["scenario"]
    scenario = load(name if name in NAMES else folder / name)
    steps = [_step(one, scenario, f"{source}: step[{n}]") for n, one in enumerate(found["step"], 1)]
    question = _question(found.get("question"), source)
    return Lesson(found["title"], scenario, steps, question, source)


def _step(table: Mapping[str, Any], scenario: Scenario, where: str) -> LessonStep:
    setting, case, stop = table["setting"], table.get("case"), degrees(scenario.kart.column.stop)
    _among(setting, scenario.settings, f"{where}.setting")
    if case is not None:
        _among(case, [one.name for one in scenario.load_cases], f"{where}.case")
    first, last = table["lock_deg"]
    for angle in (first, last):
        if abs(angle) > stop + 1e-9:
            raise ScenarioError(f"{where}.lock_deg {angle:g} deg: the mechanical stop is at ±{stop:g} deg")
    asked = FIGURE.findall(table["caption"])
    try:
        figures = {one: read(scenario, scenario.settings[setting], one.removesuffix(IN_KG)) for one in asked}
    except Refusal as error:
        raise ScenarioError(f"{where}.caption: {error}") from None
    return LessonStep(
        table["title"],
        table["caption"],
        setting,
        case,
        table["view"],
        (first, last),
        table["seconds"],
        table["exaggerate"],
        figures,
    )


def _among(name: str, known: Any, where: str) -> None:
    if name not in known:
        raise ScenarioError(
            f"{where} '{name}' is unknown{nearest(name, known)}; there are: {', '.join(known)}"
        )


def _question(table: Mapping[str, Any] | None, source: str) -> LessonQuestion | None:
    if table is None:
        return None
    answers, right = table["answers"], table["right"]
    if right > len(answers):
        raise ScenarioError(f"{source}: question.right {right}: there are {len(answers)} answers")
    return LessonQuestion(table["ask"], answers, right - 1, table["because"])
