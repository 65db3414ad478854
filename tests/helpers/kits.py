"""Karts with any box of bushes, its sizes in mm or degrees as their owner writes them."""

from hypothesis import strategies as st

from tests.helpers.scenario_edit import edited, tables

SIZES = {"rated_deg": (0.3, 5.9), "offset_mm": (0.3, 6.5)}
CLOCKS = st.floats(-360.0, 360.0) | st.sampled_from([0.0, 15.0, 345.0, 359.9999999, 51.42857142857142])


@st.composite
def sizes(draw, key=None):
    """A bush's size as its owner writes it: a few decimals, or as measured."""
    key = key or draw(st.sampled_from(list(SIZES)))
    value = draw(st.floats(*SIZES[key]))
    return key, draw(st.sampled_from([round(value, 1), round(value, 2), value]))


def corner_table(draw, top, bottom):
    """A corner's table with bushes of these sizes at any clock."""
    placed = {}
    for place, (key, number) in (("top", top), ("bottom", bottom)):
        placed |= {f"{place}_{key}": number, f"{place}_clock_deg": draw(CLOCKS)}
    return placed


@st.composite
def karts(draw, steps=(0.0, 1.0, 15.0, 45.0, 360.0 / 7.0), most=4):
    """A training kart with a kit in mm, degrees or both, yokes alike or not, and bushes in the box or not."""
    kit = draw(st.lists(sizes(), min_size=1, max_size=most, unique=True))
    spans = draw(st.sampled_from([(66.0, 66.0), (66.0, 67.3), (61.7, 70.0)]))
    one_kit_or_other = st.sampled_from(kit) | sizes() | st.just(("rated_deg", 0.0))
    corners = {
        side: corner_table(draw, draw(one_kit_or_other), draw(one_kit_or_other)) for side in ("left", "right")
    }
    rod = draw(st.sampled_from([{}, {"tie_rod_toe_deg": -0.123456789}]))
    return edited(
        tables(),
        {
            "yoke.span_mm": spans[0],
            "right.yoke.span_mm": spans[1],
            "kit": {
                "clock_step_deg": draw(st.sampled_from(steps)),
                "bush": [{key: number, "count": 4} for key, number in kit],
            },
            "default_setting": "as it is",
            "setting": {"as it is": {side: {**table, **rod} for side, table in corners.items()}},
        },
    )
