"""How the kart stands for a group of readings: in a few words, in lines, and drawn from above."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from kinematics.parts import Kart
from scenarios.gauged.candidates import BLOCK_MM, SETUPS
from scenarios.gauged.kinds import WHEELS
from scenarios.gauged.record import Reading
from viz.page.drawing import Circle, Drawing, Stroke, Text
from viz.page.strokes import arrow, box, line
from viz.sheet.blocks import Line, Number
from viz.words import numbers

WIDE, HIGH = 48.0, 48.0
UNDER_IT = -22.0
"""Where on the page the marks are explained."""
ROOM = (30.0, 25.0)
"""Of the page, mm, across and along, for what lies between the wheels' middles."""
READY = {
    "scale_kg": "scales",
    "camber_deg": "gauge",
    "toe_deg": "marks",
    "toe_mm": "marks",
    "steer_deg": "plates",
    "caster_deg": "bar",
    "inclination_deg": "bar",
}
"""What each kind needs of SETUPS."""
FRONT, ON_THE_LEFT, ON_THE_RIGHT = (0, 1), (0, 2), (1, 3)


def wheels_of(where: str) -> tuple[int, ...]:
    """Places in WHEELS of a reading's wheel, side or both front wheels; none of the frame."""
    if where == "both":
        return FRONT
    return tuple(n for n, wheel in enumerate(WHEELS) if wheel in (where, f"front_{where}"))


def heading(reading: Reading) -> str:
    """How the kart stands, in a few words."""
    told = [*_packed(reading.under_mm)]
    if reading.hung:
        told.append(f"{_short(reading.hung.kg)} kg put on")
    if reading.driven:
        told.append(f"driven at {_short(reading.lateral_g)} g, {_short(reading.longitudinal_g)} g ahead")
    if reading.held:
        told.append("frame held level")
    text = ", ".join(told) or "on its own wheels"
    return text[0].upper() + text[1:]


def _packed(under: Sequence[float]) -> Iterator[str]:
    high = [n for n, one in enumerate(under) if one]
    pairs = {FRONT: "front", ON_THE_LEFT: "left side", ON_THE_RIGHT: "right side"}
    if tuple(high) in pairs and len({under[n] for n in high}) == 1:
        yield f"{pairs[high[0], high[1]]} {_short(under[high[0]])} mm up"
    else:
        yield from (f"{_short(under[n])} mm under {_wheel(n)}" for n in high)


def _wheel(n: int) -> str:
    return WHEELS[n].replace("_", " ")


def _short(value: float) -> str:
    return numbers.short(value, 6, numbers.PAGE)


def ready(key: str, group: Sequence[Reading]) -> Iterator[Line]:
    """What is made ready, a line each; key begins the keys of its numbers."""
    first = group[0]
    yield ("Fitted: ", first.setting, "; driver seated.")
    needs = dict.fromkeys(READY[one.what] for one in group if one.what in READY)
    for need in needs:
        yield (f"{_capital(SETUPS[need][0])}.",)
    for n, high in enumerate(first.under_mm):
        if high:
            said = Number(f"{key}_under_{WHEELS[n]}_mm", high, f"{_short(high)} mm")
            yield (said, f" of level {_what(high)} under wheel {n + 1}, {_wheel(n)}.")
    if max(first.under_mm) >= BLOCK_MM:
        yield ("Wheels held from rolling; two people steady the kart while the driver climbs in or out.",)
    if first.hung:
        yield from _hung(key, first)
    if first.driven:
        for way, g in (("into the turn", first.lateral_g), ("ahead", first.longitudinal_g)):
            yield (
                Number(f"{key}_g_{way}", g, f"{_short(g)} g"),
                f" {way}, from a logger, where it may be driven.",
            )
    if first.held:
        yield (f"{_capital(SETUPS['held'][0])}: level front to rear and across, on stands.",)


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]


def _what(high: float) -> str:
    return "shim" if high < BLOCK_MM else "block"


def _hung(key: str, reading: Reading) -> Iterator[Line]:
    assert reading.hung is not None
    kg, (x, y, z) = reading.hung.kg, reading.hung.at_mm
    yield (Number(f"{key}_weight_kg", kg, f"{_short(kg)} kg"), ", tied down, its middle:")
    yield (_away(key, "x", x), f" {'ahead of' if x >= 0.0 else 'behind'} the middle of the rear axle,")
    side = "left" if y > 0.0 else "right"
    yield (_away(key, "y", y), f" to the {side} of the kart's middle,") if y else ("midway across,",)
    yield (_away(key, "z", z), " over the floor.")


def _away(key: str, axis: str, value: float) -> Number:
    """A distance without its sign, which its words tell."""
    return Number(f"{key}_weight_{axis}_mm", value, f"{_short(abs(value))} mm")


def stance_drawing(kart: Kart, group: Sequence[Reading]) -> Drawing:
    """The kart from above: wheels that are read numbered, what is under it and on it marked."""
    first = group[0]
    read = {n for one in group for n in wheels_of(one.where)}
    return Drawing(tuple(_strokes(kart, first, read)), _alt(first, read), WIDE, HIGH)


def _alt(reading: Reading, read: Collection[int]) -> str:
    wheels = ", ".join(f"{n + 1} {_wheel(n)}" for n in sorted(read)) or "none"
    return f"The kart from above, forward up the page: {heading(reading)}. Wheels that are read: {wheels}."


def _strokes(kart: Kart, reading: Reading, read: Collection[int]) -> Iterator[Stroke]:
    per_mm = _per_mm(kart, reading)

    def at(x: float, y: float) -> tuple[float, float]:
        """A place on the kart, mm, forward and left of the middle of the rear axle, on the page."""
        return -per_mm * y, per_mm * (x - 0.5 * kart.wheelbase)

    front, rear = at(kart.wheelbase, 0.0)[1], at(0.0, 0.0)[1]
    yield from _frame(front, rear, per_mm * kart.front_track, per_mm * kart.rear_track)
    tracks = (kart.front_track, kart.front_track, kart.rear_track, kart.rear_track)
    for n, track in enumerate(tracks):
        place = at(kart.wheelbase if n < 2 else 0.0, (0.5, -0.5)[n % 2] * track)
        yield from _stood(place, n, reading.under_mm[n], n in read)
    if reading.held:
        for x, y in ((-5.5, front - 4.0), (5.5, front - 4.0), (-5.5, rear + 4.0), (5.5, rear + 4.0)):
            yield box((x, y), (2.6, 2.6), "put", 45.0)
    if reading.hung:
        yield from _weight(at(*reading.hung.at_mm[:2]))
    told = [*(["◆ held"] if reading.held else [])]
    told += [f"■ {_short(reading.hung.kg)} kg"] if reading.hung else []
    yield Text(0.0, UNDER_IT, "  ".join(told))
    yield from arrow((0.0, 16.9), (0.0, 19.6))
    yield Text(0.0, 21.4, "front")


def _per_mm(kart: Kart, reading: Reading) -> float:
    """Millimetres of paper for one of the kart, so that a weight far out is on the page too."""
    across = [kart.front_track, kart.rear_track]
    along = [kart.wheelbase]
    if reading.hung:
        across.append(2.0 * abs(reading.hung.at_mm[1]))
        along.append(2.0 * abs(reading.hung.at_mm[0] - 0.5 * kart.wheelbase))
    return min(ROOM[0] / max(map(float, across)), ROOM[1] / max(map(float, along)))


def _frame(front: float, rear: float, front_track: float, rear_track: float) -> Iterator[Stroke]:
    yield line((-0.5 * rear_track, rear), (0.5 * rear_track, rear), "floor")
    for way in (-1.0, 1.0):
        yield line((way * 4.5, rear - 2.0), (way * 4.5, front + 2.0), "faint")
        yield line((way * 4.5, front), (way * 0.5 * front_track, front), "floor")
    yield line((-4.5, front + 2.0), (4.5, front + 2.0), "faint")
    yield line((-4.5, rear - 2.0), (4.5, rear - 2.0), "faint")
    middle = 0.5 * (front + rear)
    yield box((0.0, middle - 3.0), (6.5, 6.5), "part")
    yield Circle(0.0, middle + 4.0, 2.2, "plain")


def _stood(place: tuple[float, float], n: int, high: float, read: bool) -> Iterator[Stroke]:
    """A wheel with its number where it is read, and what is under it."""
    x, y = place
    if high:
        yield box(place, (8.4, 11.5), "put")
        yield Text(x, y + (7.6 if n < 2 else -7.6), f"{_short(high)} mm", role="state")
    yield box(place, (5.2, 8.5), "read" if read else "tyre")
    if read:
        yield Text(x, y, f"{n + 1}", role="state")


def _weight(place: tuple[float, float]) -> Iterator[Stroke]:
    yield box(place, (4.4, 4.4), "put")
    x, y = place
    for way in (-1.0, 1.0):
        yield line((x - 4.0, y + way * 4.0), (x + 4.0, y - way * 4.0), "faint")
