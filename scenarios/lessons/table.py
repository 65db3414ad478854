"""The keys of a lesson's file."""

from __future__ import annotations

from scenarios.ranges import RANGES, Allowed
from scenarios.schema.keys import LINE, NAME
from scenarios.schema.kinds import Count, Items, Key, KeyTable, Measure, Words

CAPTION = Words(1, 600)
SECONDS = Allowed(1, 60, "long enough to read, short enough to watch")
RIGHT = Allowed(1, 6, "as many answers as fit on a screen")
HANDWHEEL = Measure(RANGES["sweep.handwheel_from_deg"], "deg")
STEP = KeyTable(
    "LessonStep",
    "[[step]]: one picture, turned through a path of lock, and what is said beside it.",
    Key("title", LINE),
    Key("caption", CAPTION, "A figure in { } is read from the kart shown, as {camber_left_deg}"),
    Key("setting", NAME),
    Key(
        "case", NAME, "The load case in which it stands; left out: the front end, its frame held still", None
    ),
    Key("view", LINE),
    Key("lock_deg", Items(HANDWHEEL, 2, 2), "Handwheel angles, from and to, + left", [0.0, 0.0]),
    Key("seconds", Measure(SECONDS, "s"), "How long a film shows it", 6.0),
    Key("exaggerate", Measure(RANGES["--exaggerate"], ""), "How much larger the leaning is drawn", 1.0),
)
QUESTION = KeyTable(
    "LessonQuestion",
    "[question]: what to ask at the end, the answers to choose from, which is right, and why.",
    Key("ask", LINE),
    Key("answers", Items(LINE, 2, 6)),
    Key("right", Count(RIGHT, ""), "Counted from 1"),
    Key("because", CAPTION),
)
LESSON = KeyTable(
    "LessonFile",
    "A lesson: steps to show one after the other, and a question.",
    Key("title", LINE),
    Key("scenario", LINE, "A built-in kart, or a file beside the lesson", "training-kart"),
    Key("step", Items(STEP, 1, 40)),
    Key("question", QUESTION, "", None),
)
