"""Documents as bytes, piece by piece: of long columns no more than one is ever held as plain numbers."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from kinematics.figures.figure import Numbers
from kinematics.frames import Array, Mask
from scenarios.quoting import json_escaped

PIECE = 1 << 16
"""Characters of a piece, about."""
ROWS = 1024
"""Rows of a CSV of which columns are held as plain numbers at a time."""


@dataclass(frozen=True)
class Series:
    """Values (N) and where they are known; a list in JSON, null where there is none."""

    values: Array
    known: Mask

    def plain(self, some: slice = slice(None)) -> list[float | None]:
        """Some of the values as plain numbers, None where there is none."""
        known = np.broadcast_to(self.known, self.values.shape)[some].tolist()
        return [value if ok else None for value, ok in zip(self.values[some].tolist(), known, strict=True)]


def series(column: Numbers) -> Series:
    """A column's values and where they are known."""
    return Series(column.values, column.known)


def json_chunks(payload: Mapping[str, Any]) -> Iterator[bytes]:
    """Strict JSON text in UTF-8, ending in a line feed; what would steer a terminal is escaped in it."""
    encoder = json.JSONEncoder(indent=1, allow_nan=False, ensure_ascii=False, default=Series.plain)
    return (json_escaped(text).encode() for text in _gathered(encoder.iterencode(payload)))


def json_bytes(payload: Mapping[str, Any]) -> bytes:
    """The same at once."""
    return b"".join(json_chunks(payload))


def _gathered(texts: Iterable[str]) -> Iterator[str]:
    """Short texts put together to pieces, a line feed at the end."""
    piece, size = [], 0
    for text in texts:
        piece.append(text)
        size += len(text)
        if size >= PIECE:
            yield "".join(piece)
            piece, size = [], 0
    yield "".join([*piece, "\n"])


def csv_chunks(rows: Iterable[Sequence[object]]) -> Iterator[bytes]:
    """Rows as CSV in UTF-8."""
    text = io.StringIO(newline="")
    written = csv.writer(text, lineterminator="\n")
    for row in rows:
        written.writerow(row)
        if text.tell() >= PIECE:
            yield text.getvalue().encode()
            text.seek(0)
            text.truncate()
    yield text.getvalue().encode()


def series_rows(columns: Sequence[Series | None], count: int) -> Iterator[list[str]]:
    """Cells of so many rows of columns, '' where there is no value; None is an empty column."""
    empty = [""] * ROWS
    for start in range(0, count, ROWS):
        some = slice(start, min(start + ROWS, count))
        cells = [empty[: some.stop - start] if one is None else _cells(one.plain(some)) for one in columns]
        yield from map(list, zip(*cells, strict=True))


def _cells(values: Sequence[float | None]) -> list[str]:
    return ["" if value is None else repr(value) for value in values]
