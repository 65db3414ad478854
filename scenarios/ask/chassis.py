"""Changes of the whole kart typed on the command line: `axle=5,rear-track=10,ballast=5@600/-200/150`.

The result has the keys of a setting in a scenario file, so that one place checks and converts both.
"""

from __future__ import annotations

from collections.abc import Iterator

from scenarios.ask.typed import Tables, finite, parts_of, sized
from scenarios.errors import Refusal, exact
from scenarios.schema import changes
from scenarios.schema.changes import CHANGES, NOT_MODELLED

BALLAST = changes.BALLAST.word
BY_WORD = {change.word: change for change in CHANGES}
WORDS = (*BY_WORD, BALLAST)
SYNTAX = "axle=5,rear-track=10,seat-up=20,frame=10%,ballast=5@600/-200/150"
_WIDTH = max(map(len, WORDS)) + 1


def _help() -> Iterator[str]:
    yield "The whole kart is typed as differences from the kart as measured, for example"
    yield f"  {SYNTAX}"
    for word, change in BY_WORD.items():
        yield f"{word:{_WIDTH}}{change.told}, {change.unit}"
    yield f"{BALLAST:{_WIDTH}}kg put on, - taken off, '@', where: x/y/z in mm; may stand several times"
    yield "Where no corner is typed beside it, all else is as in --based-on or the default setting."
    yield f"Not modelled, which is not without effect: {', '.join(NOT_MODELLED)}."


HELP = "\n".join(_help())


def kart_text(text: str) -> Tables:
    """The keys of a setting for what is typed of the whole kart; ballast takes the place of what was on."""
    table: Tables = {}
    for word, value in parts_of(text, WORDS, SYNTAX):
        if word == BALLAST:
            table.setdefault(BALLAST, []).append(_ballast(value))
            continue
        change = BY_WORD[word]
        if change.key in table:
            raise Refusal(f"'{word}' stands twice in '{text}'")
        number, unit = sized(f"{word}={value}", value)
        if unit not in ("", change.unit):
            raise Refusal(f"{word}={value}: the unit is {change.unit}")
        table[change.key] = number
    return table


def table_text(table: Tables) -> str:
    """Changes of the whole kart as they are typed; `kart_text` reads them back, number for number."""
    said = [f"{change.word}={exact(table[change.key])}" for change in CHANGES if change.key in table]
    for one in table.get(BALLAST, []):
        said.append(f"{BALLAST}={exact(one['mass_kg'])}@{'/'.join(exact(mm) for mm in one['at_mm'])}")
    return ",".join(said)


def _ballast(value: str) -> Tables:
    mass, at, place = value.partition("@")
    number, unit = sized(f"{BALLAST}={value}", mass)
    where = place.split("/")
    if unit not in ("", "kg") or not at or len(where) != 3:
        raise Refusal(f"{BALLAST}={value}: write kg, '@', x/y/z in mm, for example {BALLAST}=5@600/-200/150")
    return {"mass_kg": number, "at_mm": [finite(one, f"{BALLAST} at") for one in where]}
