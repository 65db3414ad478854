"""Every figure there is, in the order in which it is told, and its address as it is typed.

A new figure is one row in one of the rooms `wheel`, `kart`, `standing` or `turn`; columns, CSV, JSON, wants,
colours and tables find it here.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from math import degrees, isfinite, radians

from kinematics.figures import kart, standing, turn, wheel
from kinematics.figures.figure import Address, Given, Group, Of, each

THROUGH_LOCK: Group = (kart.HANDWHEEL, *wheel.THROUGH_LOCK, *kart.THROUGH_LOCK)
HEADLINE: Group = (wheel.STRAIGHT_AHEAD, kart.TOE_TOTAL, kart.TOE_TOTAL_MM, kart.BINDS_AT)
NEAR: Group = (kart.JACKING_RIGID,)
IN_CASE: Group = standing.IN_CASE
OF_TURN: Group = turn.OF_TURN
PLACES: Group = kart.PLACES
"""Where the front wheels stand straight ahead: told when settings are compared."""


class Unknown(ValueError):
    """A word that is not among those known; who tells it may say what was meant."""

    def __init__(self, message: str, word: str, known: Iterable[str]) -> None:
        super().__init__(message)
        self.word, self.known = word, tuple(known)


STRAIGHT = ", straight ahead"
"""What a headline figure's meaning adds to that of its column."""


def straight(one: Address, given: Given) -> str:
    """What a headline figure means."""
    return one.said(given, STRAIGHT if one.figure.of is Of.LOCK else "")


def every() -> dict[str, Address]:
    """Every figure with each of its sides, by name, without lock or case."""
    groups = (HEADLINE, NEAR, THROUGH_LOCK, IN_CASE, OF_TURN, PLACES)
    return {address.name: address for group in groups for address in each(group)}


def find(name: str) -> Address:
    """The figure of this name, refused as Unknown where there is none."""
    known = every()
    if name not in known:
        raise Unknown(f"unknown figure {name!r}", name, known)
    return known[name]


def address(text: str) -> Address:
    """The address of a typed NAME, NAME@LOCK, NAME@LOCK@CASE or NAME@CASE: the inverse of str(address).

    LOCK is in deg. A figure that has no lock position, or is of a whole turn, takes all that follows its
    first '@' as the case, a number in front of another '@' apart. A ValueError says what is wrong.
    """
    name, *more = (part.strip() for part in text.split("@", 2))
    of = find(name)
    if more and (of.figure.of.whole_turn or of.figure.of is Of.NEAR):
        first, _, rest = (part.strip() for part in text.partition("@")[2].partition("@"))
        locked = bool(rest) and _is_number(first)
        return of.figure.at(
            of.side,
            radians(float(first)) if locked else None,
            rest if locked else text.partition("@")[2].strip(),
        )
    lock = _number(more[0], text) if more else None
    return of.figure.at(of.side, None if lock is None else radians(lock), more[1] if len(more) > 1 else None)


def _is_number(text: str) -> bool:
    try:
        return isfinite(float(text))
    except ValueError:
        return False


def _number(number: str, text: str) -> float:
    try:
        value = float(number)
    except ValueError:
        raise ValueError(f"'{number}' in '{text}' is not a number") from None
    if not isfinite(value):
        raise ValueError(f"{number} in '{text}' is not a finite number")
    return value


def check(asked: Address, cases: Collection[str], stop: float) -> None:
    """Refuse an address that lacks its lock or case, has one too many, or lies beyond the stop (rad)."""
    name, of, case = asked.name, asked.figure.of, asked.case
    if case is not None and not cases:
        raise ValueError(f"{asked.words}: no load cases are given")
    if case is not None and case not in cases:
        raise Unknown(f"{name}: unknown load case {case!r}", case, cases)
    if of.in_case and case is None:
        kind = "four-wheel figure" if of is Of.CASE else "figure of a load case"
        raise ValueError(f"{name} is a {kind}: name the load case in which it is wanted")
    if case is not None and not of.in_case:
        raise ValueError(f"{name} does not depend on a load case: leave {case!r} out")
    _check_lock(asked, stop)


def _check_lock(asked: Address, stop: float) -> None:
    name, of, lock = asked.name, asked.figure.of, asked.lock
    if lock is None:
        ahead = any(asked.figure is other.figure for other in each(HEADLINE))
        if of in (Of.CASE, Of.AT_LOCK) or (of is Of.LOCK and not ahead):
            raise ValueError(f"{name} is read at a lock position: give a handwheel angle")
        return
    if of.whole_turn:
        raise ValueError(f"{name} is read off a whole turn: leave the handwheel angle out")
    if of in (Of.AHEAD, Of.NEAR):
        raise ValueError(f"{name} does not change through lock: leave the handwheel angle out")
    if of is Of.AT_LOCK and lock < 0.0:
        raise ValueError(f"{name} names its turn: give the handwheel angle without a sign")
    if not abs(lock) <= stop * (1.0 + 1e-9):
        raise ValueError(f"{asked.words} is beyond the stop at {degrees(stop):g} deg")
