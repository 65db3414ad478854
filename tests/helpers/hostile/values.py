"""Values that nobody means, for a key, an option or a file."""

from __future__ import annotations

import random
from typing import Any

from tests.helpers.hostile.texts import ESCAPES, LETTERS, MATHS

NUMBERS = (
    *("0", "-0.0", "1", "-1", "0.5", "45", "1e-9", "5e-324", "1e308", "-1e308"),
    *("1e999", "nan", "-inf", "inf"),
    *("9" * 30, "9" * 4400, "0x10", "1_000", "1e", ".5", "+", "٣", "1,5", "12 mm", "true"),
)
LITERALS = (
    *NUMBERS,
    *("[]", "[[[1]]]", "{}", '""', '"x"', "'''\n'''", "[1, 'a']", "{a = 1}", "1979-05-27", "[1.0, 2.0, 3.0]"),
    *('"\\u202e"', '"\\u0000"', "[" * 40 + "]" * 40, "{a = {b = {c = 1}}}", '"' + "x" * 700 + '"'),
)
VALUES: tuple[Any, ...] = (
    *(None, True, -1, 0, 3, 1e-9, 5e-324, 1e308, 10**30, 10**400, -0.0, "", "x", "nan", [], {}, [[[]]]),
    *({"a": 1}, [1.0, 2.0, 3.0], ["top", 1], "\u202e", "x" * 700, float("nan"), float("inf"), [{}] * 200),
)


def odd(rng: random.Random) -> str:
    """A text that something could choke on."""
    return "".join(rng.choice([*ESCAPES, *MATHS, *LETTERS, " ", "a"]) for _ in range(rng.randint(0, 6)))
