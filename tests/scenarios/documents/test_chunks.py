"""Documents in pieces: the same bytes as at once, and never many columns as plain numbers."""

from __future__ import annotations

import csv
import io
import json

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scenarios.documents import chunks
from scenarios.documents.chunks import Series, csv_chunks, json_bytes, json_chunks, series_rows
from scenarios.quoting import json_escaped
from tests.helpers.cost.memory import peak_of
from tests.helpers.hostile.texts import odd_texts

plain = (
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | odd_texts
)
documents = st.dictionaries(
    odd_texts, st.recursive(plain, lambda inner: st.lists(inner, max_size=4), max_leaves=8)
)


@given(documents, st.integers(1, 40))
def test_json_in_pieces_is_json_at_once(document, piece):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(chunks, "PIECE", piece)
        written = b"".join(json_chunks(document))
    at_once = json_escaped(json.dumps(document, indent=1, allow_nan=False, ensure_ascii=False)) + "\n"
    assert written == at_once.encode()
    assert json.loads(written) == document


def test_a_series_is_a_list_with_null_where_there_is_none():
    one = Series(np.array([1.5, np.nan, -0.0]), np.array([True, False, True]))
    assert json.loads(json_bytes({"a": one, "b": [one]})) == {
        "a": [1.5, None, -0.0],
        "b": [[1.5, None, -0.0]],
    }
    with pytest.raises(ValueError, match="not JSON compliant"):
        json_bytes({"a": Series(one.values, np.array(True))})


@given(st.integers(0, 30), st.integers(1, 7), st.integers(1, 60))
@settings(max_examples=20)
def test_csv_in_pieces_has_every_row_once(count, rows, piece):
    values = np.arange(float(count))
    columns = [Series(values, np.array(True)), None, Series(values, values % 3.0 != 0.0)]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(chunks, "PIECE", piece)
        patch.setattr(chunks, "ROWS", rows)
        text = b"".join(csv_chunks(series_rows(columns, count))).decode()
    wanted = [[repr(v), "", repr(v) if v % 3.0 else ""] for v in values.tolist()]
    assert list(csv.reader(io.StringIO(text))) == wanted


_LONG = """
import sys
import scenarios
from viz.cli.main import main
names = [word for name in scenarios.load().settings for word in ("--setting", name)]
told = ("--positions", sys.argv[1], "--sure", "none")
assert main(["sweep", *names, *told, sys.argv[2], "/dev/null"]) == 0
"""


@pytest.mark.parametrize(
    ("option", "positions", "most"),
    [
        pytest.param("--json", 2001, 100, marks=pytest.mark.slow),
        pytest.param("--json", 5001, 160, marks=pytest.mark.long),
        pytest.param("--json", 20001, 512, marks=pytest.mark.long),  # the longest there is
        pytest.param("--csv", 20001, 512, marks=pytest.mark.long),
    ],
)
def test_a_long_sweep_of_four_settings_is_written_in_few_mebibytes(option, positions, most):
    assert peak_of(_LONG, str(positions), option) < most * 1024  # KiB
