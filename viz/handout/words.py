"""What a hand-out says in sentences: titles, and what its numbers mean."""

from __future__ import annotations

from kinematics.figures.verdict import MEANINGS, STANDS
from scenarios.ask.asked import concerning
from viz.handout.content import Content
from viz.scene.loads import MM_PER_N
from viz.words.numbers import number

NO_SCRIPT = "Scripts are switched off, so the picture stays as it is. Everything else on this page stands."
BINDS = "The tie rods do not reach this lock position with this setting."
CHART_KEY = (
    "A solid, B dashed; every curve is named at its end. The upright line is the lock position shown above."
)
CHART_KEY_ALONE = "Every curve is named at its end. The upright line is the lock position shown above."
CLOCK = (
    "The frame is held still and the wheel taken off. The stub axle is the hand of a clock that leans with "
    "the kingpin: turned to the inside of the corner its end goes back and down, turned to the outside "
    "forward and up. So the inside front wheel pushes its corner of the frame up, the outside one lets its "
    "corner down, and the inside rear comes up."
)
FOOTER = (
    "Made by lockarc. This file is complete in itself: it asks the network for nothing and can be "
    "passed on or kept without a connection."
)


def drawn(content: Content, arrows: bool) -> str:
    """How the kart stands in the pictures, how much larger it is drawn, and what the arrows are if any."""
    times = content.moment.times
    scale = (
        "drawn to scale: nothing is exaggerated"
        if times == 1.0
        else f"its twist, roll, ride height and the air under a wheel drawn {number(times, 0)} times as "
        "large, with the true number beside it"
    )
    square = number(100.0 / MM_PER_N, 0)
    loads = f" The arrows at the wheels are as long as the loads, {square} N to a square of the road."
    return (
        f"The kart stands in the load case “{content.case.name}” on a level road, {scale}. A wheel off the "
        "road has a colour of its own. The bar is the inside rear's load standing straight ahead: what it "
        "still carries, what steering takes, what cornering takes."
    ) + (loads if arrows else "")


def title(content: Content) -> str:
    """What is shown: one setting, or two beside each other."""
    return " against ".join(content.names.values())


def setting(content: Content, slot: str) -> str:
    """A setting's name with its note."""
    name = content.names[slot]
    note = content.scenario.notes.get(name, "")
    return f"{name}. {note}" if note else name


def notes(content: Content) -> list[str]:
    """What the numbers mean, and what was computed all the same but should be looked at."""
    return [*_MEANINGS, *concerning(content.scenario, content.names.values())]


_MEANINGS = (
    "Left and right are the kart's. Camber is positive with the top outward, caster with the top "
    "rearward, trail with the kingpin axis ahead of the contact, scrub with the axis inboard of it.",
    "Toe-in is positive. Much of the kart trade counts toe-out as positive: mind the sign when you compare.",
    "Wheel drop is how far a front wheel's lowest point has gone down since straight ahead, the frame "
    "held still. The inside front drops and the outside one rises: that is what "
    "lifts the inside rear.",
    "Loads and clearances are those of the kart standing on four tyres under its frame's twist in the "
    "load case named. Where a load is 0 the wheel is off the road.",
    "A load case's lateral g is into the turn that the steering makes, unless it says opposite lock: lock to "
    "the right mirrors lock to the left. Inside and outside are those of the turn; where both ways read "
    "alike one row tells both.",
    *(f"“{word}” in place of a number: {meaning}." for word, meaning in MEANINGS.items() if word != STANDS),
    "In the pictures the cross is the contact centre, the diamond the point where the kingpin axis "
    "meets the road; the road's grid is 100 mm.",
)
