"""Text as the face can draw it."""

import pytest
from hypothesis import given

from tests.helpers.hostile.texts import odd_texts, unseen
from viz.look.lettering import SUBSTITUTE, drawable


@pytest.mark.parametrize(
    ("text", "drawn"),
    [
        ("größe −1 mm", "größe −1 mm"),
        ("e\u0301", "é"),
        ("漢 🏁", "□ □"),
        ("👩\u200d🔧❤\ufe0f", "□□❤"),
        ("a\u200bb\ufeff\u202ec\u00ad", "abc"),
        ("a\nb\u2028c\u3000d", "a b c d"),
        ("\x00\x1b[2J\x9b", "□□[2J□"),
        ("clock\u00a090", "clock\u00a090"),
        ("$x_2^3\\", "$x_2^3\\"),
    ],
)
def test_what_has_no_shape_is_a_substitute_and_what_is_never_seen_is_left_out(text, drawn):
    assert drawable(text) == drawn


@given(odd_texts)
def test_any_text_becomes_one_line_that_can_be_seen(text):
    drawn = drawable(text)
    assert unseen(drawn) == set()
    assert "\n" not in drawn
    assert SUBSTITUTE in drawn or len(drawn) <= len(text)
    assert drawable(drawn) == drawn
