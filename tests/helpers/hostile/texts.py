"""Names and notes that hold what a terminal, a plot or a page could choke on."""

from __future__ import annotations

import unicodedata

from hypothesis import strategies as st

ESCAPES = (
    "\x1b[2J",
    "\x1b]0;t\x07",
    "\x9b31m",
    "\x00",
    "\x7f",
    "\x85",
    "\u2028",
    "\u202e",
    "\u2066",
    "\u200b",
)
MATHS = ("$", "$x^2$", "50 $ sold_for 60 $", "\\", "\\frac", "_", "^", "{", "%", "&", "<b>", '"', "'")
LETTERS = (
    "größe",
    "漢字",
    "שלום",
    "مرحبا",
    "🏁",
    "👩\u200d🔧",
    "e\u0301",
    "\ufeff",
    "\u00ad",
    "\U000e0041",
    "x",
)

texts = st.lists(
    st.sampled_from([*ESCAPES, *MATHS, *LETTERS, " "]) | st.characters(codec="utf-8"), max_size=6
)
odd_texts = texts.map("".join)
"""Any text, most of it from the lists above."""
odd_lines = odd_texts.map(lambda text: "".join(c for c in text if c >= " " and c != "\x7f") or "x")
"""What a title may be: one line without control characters as ASCII has them."""


def unseen(text: str) -> set[str]:
    """What is not allowed on a terminal, by number: controls, formats, separators."""
    banned = ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")
    return {f"U+{ord(c):04X}" for c in {*text} - {"\n"} if unicodedata.category(c) in banned}
