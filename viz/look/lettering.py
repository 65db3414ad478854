"""The one face of plots and of the sheet's PDF: its files, and text as it can be drawn with it."""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from pathlib import Path

SUBSTITUTE = "□"
"""Stands for a character that the face has no shape for."""


NO_BREAK = "\u00a0"


def faces() -> tuple[Path, Path]:
    """Files of the plain and the bold face, which come with Matplotlib."""
    from matplotlib import get_data_path

    folder = Path(get_data_path()) / "fonts" / "ttf"
    return folder / "DejaVuSans.ttf", folder / "DejaVuSans-Bold.ttf"


@lru_cache(maxsize=1)
def _shapes() -> frozenset[str]:
    """The characters that both faces have a shape for."""
    from matplotlib.ft2font import FT2Font

    plain, bold = (FT2Font(str(face)).get_charmap() for face in faces())
    return frozenset(chr(code) for code in plain.keys() & bold.keys())


def drawable(text: str) -> str:
    """Text as the face can draw it on one line.

    White space is a space (one that breaks no line stays so), what is never seen is left out, and what has
    no shape is a substitute.
    """
    return "".join(_drawn(character) for character in unicodedata.normalize("NFC", text))


def _drawn(character: str) -> str:
    if character.isspace():
        return character if character == NO_BREAK else " "
    if unicodedata.category(character) == "Cf" or _selects(character):
        return ""
    return character if character.isprintable() and character in _shapes() else SUBSTITUTE


def _selects(character: str) -> bool:
    """Whether it only chooses among shapes of the one before it."""
    return "\ufe00" <= character <= "\ufe0f" or "\U000e0100" <= character <= "\U000e01ef"
