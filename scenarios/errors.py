"""The one kind of error a scenario raises, and how a key is written in it with its unit."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from difflib import get_close_matches
from reprlib import Repr

UNITS = (
    ("_nm_per_deg", "N·m/deg"),
    ("_n_per_mm", "N/mm"),
    ("_n_per_n", "N/N"),
    ("_km_h", "km/h"),
    ("_ratio", ""),
    ("_mm", "mm"),
    ("_deg", "deg"),
    ("_kg", "kg"),
    ("_nm", "N·m"),
    ("_g", "g"),
    ("_m", "m"),
)


LONGEST = 290  # characters of a refusal; with the program's name in front a line stays within 300

_DECIMAL_COMMA = re.compile(r"(?<![\w.,])\d+,\d+(?![.,]?\d)")

_SHORT = Repr()
vars(_SHORT).update(maxstring=60, maxlong=60, maxother=60, maxlevel=3, maxdict=3, maxlist=3)


class Refusal(ValueError):
    """Something asked for cannot be done; its text is the one line that says so, cut where it is too long."""

    def __init__(self, text: object) -> None:
        super().__init__(cut(str(text)))


class ScenarioError(Refusal):
    """A scenario that cannot be used; its text is one line: file, key, value, unit, what is allowed."""


def unit_of(key: str) -> str:
    """The unit that a key's name ends in, '' when it has none: 'kart.wheelbase_mm' -> 'mm'."""
    plain = key.rpartition(".")[2].split("[")[0]
    return next((unit for suffix, unit in UNITS if plain.endswith(suffix)), "")


def cut(text: str, most: int = LONGEST) -> str:
    """The text in so many characters: the middle of its long words goes first, then that of the whole."""
    for longest in (80, 40):
        if len(text) > most:
            text = " ".join(middle_out(word, longest) for word in text.split(" "))
    return middle_out(text, most)


def middle_out(text: str, most: int) -> str:
    """The text in so many characters, its middle told by three dots where it is longer."""
    kept = most - 3
    return text if len(text) <= most else f"{text[: kept - kept // 2]}...{text[len(text) - kept // 2 :]}"


def shown(value: object) -> str:
    """A value as one short line, numbers without noise, however long or deep it is."""
    if isinstance(value, list | tuple):
        more = ["..."] if len(value) > 4 else []
        return middle_out(f"[{', '.join([*map(_plain, value[:4]), *more])}]", 120)
    return _plain(value)


def _plain(value: object) -> str:
    if isinstance(value, float):
        return f"{value:.6g}"
    if isinstance(value, int) and value.bit_length() > 3000:
        return "a whole number of over 900 digits"  # one of over 4300 cannot even be written out
    return middle_out(" ".join(_SHORT.repr(value).split()), 60)


def exact(number: float) -> str:
    """A number that reads back as the same, without needless zeros."""
    return repr(float(number)).removesuffix(".0")


def complaint(key: str, value: object, allowed: str) -> str:
    """'key = value unit: what is allowed', one line without the file."""
    return f"{key} = {shown(value)} {unit_of(key)}".rstrip() + f": {allowed}"


def nearest(word: str, known: Iterable[str], alike: float = 0.6) -> str:
    """ "; did you mean 'X'?" for the nearest known word, '' when none is so much alike (0..1)."""
    close = get_close_matches(word, list(known), n=1, cutoff=alike)
    return f"; did you mean '{close[0]}'?" if close else ""


def suggestion(word: str, known: Iterable[str]) -> str:
    """The nearest word, and all that there are, for one that is not known."""
    names = list(known)
    return f"{nearest(word, names, 0.4)}; there are: {', '.join(names)}"


def pointed(text: str) -> str:
    """ "; write a point: 12.5" for a text with a number that has a decimal comma, '' for any other."""
    meant = _DECIMAL_COMMA.sub(lambda number: number[0].replace(",", "."), text)
    return f"; write a point: {meant}" if meant != text else ""


@contextmanager
def refusing(what: str) -> Iterator[None]:
    """Say in one line, after what was asked for, why the solver refuses it."""
    try:
        yield
    except Refusal:
        raise
    except ValueError as error:
        raise Refusal(f"{what}: {told(error)}") from error


def told(error: ValueError) -> str:
    """What a solver refuses, with what may have been meant by a word that it does not know."""
    word, known = getattr(error, "word", ""), getattr(error, "known", ())
    return f"{error}{nearest(word, known, 0.4)}"


def refuse_unless(condition: bool, key: str, value: object, allowed: str) -> None:
    """Raise the one-line ScenarioError unless the condition holds."""
    if not condition:
        raise ScenarioError(complaint(key, value, allowed))
