"""Clock steps too fine to look at every pair: as good as looking at every one, and in bounded memory."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics.choose import box as box_room
from kinematics.choose import corners
from kinematics.choose.box import Box, dial_of, on_hand, row_of
from kinematics.choose.search import search
from kinematics.choose.targets import Target
from tests.helpers.cost.depth import deep
from tests.helpers.cost.memory import peak_of
from tests.helpers.karts import KART, kart_from, picker
from tests.helpers.reading import named
from tests.helpers.searching import BASE, CAMBER_AND_DROP, CASE, DEG, LOCKS, REARWARD, SIZES, rows_fitted

NOTHING = 0.02
"""In scales, of which one is the least difference worth the work."""
FIGURES = (*CAMBER_AND_DROP[:5], named("caster_left_deg"), named("scrub_left_mm", float(LOCKS[3])))


def both_ways(kart, box, targets, **how):
    """The search as it is when few pairs are looked at, and when every one is."""
    found = []
    for most in (1, 10**9):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(box_room, "MOST_PAIRS", most)
            found.append(search(kart, BASE, box, targets, **how))
    return found


def wanted(rng, count):
    """Values near what a bush set does, met by none exactly."""
    chosen = rng.choice(len(FIGURES), count, replace=False)
    return [
        Target(FIGURES[i], value, value) for i, value in zip(chosen, rng.normal(0.0, 2.0, count), strict=True)
    ]


@pytest.mark.slow
@given(seed=st.integers(0, 10**6), step=st.sampled_from([5.0, 6.0, 360.0 / 71.0]), count=st.integers(1, 3))
@deep(2, 12)
def test_coarse_to_fine_comes_as_near_as_looking_at_every_pair(seed, step, count):
    rng = np.random.default_rng(seed)
    kart = kart_from(picker(seed % 50), even=bool(seed % 2))
    box = Box(tuple(rng.choice(SIZES, 2, replace=False).tolist()), clock_step=step * DEG)
    sides = str(rng.choice(["alike", "left", "each"]))
    few, every = both_ways(kart, box, wanted(rng, count), sides=sides, rods="kept")
    assert few.total < every.total
    assert bool(few.best) == bool(every.best)
    for near, best in zip(few.best[:1] + few.by_work[:1], every.best[:1] + every.by_work[:1], strict=True):
        assert best.fit - 1e-9 <= near.fit <= best.fit + NOTHING
        assert near.reached == best.reached


@pytest.mark.slow
@pytest.mark.parametrize("step", [2.0, *(pytest.param(fine, marks=pytest.mark.long) for fine in (1.0, 0.1))])
def test_a_finer_step_is_never_worse_and_its_clocks_stand_on_it(step):
    rng = np.random.default_rng(5)
    kart, targets = kart_from(picker(3)), wanted(rng, 3)
    coarse = search(kart, BASE, Box(SIZES, clock_step=15.0 * DEG), targets)
    fine = search(kart, BASE, Box(SIZES, clock_step=step * DEG), targets)
    assert fine.seen == fine.total < 400_000
    assert fine.best[0].fit <= coarse.best[0].fit + 1e-12
    for candidate in fine.best:
        turns = np.degrees([clock for row in rows_fitted(candidate) for clock in row[1::2]]) / step
        assert np.abs(turns - np.round(turns)).max() < 1e-6
    assert "With a coarser clock step every pair is looked at." in " ".join(fine.notes)


def test_a_load_case_is_refined_too():
    box = Box(SIZES[1:4:2], clock_step=5.0 * DEG)
    load = named("inside_rear_load_n", float(LOCKS[4]), CASE.name)
    targets = [Target(load, 77.0, 77.0), Target(named("caster_left_deg"), 14.0, 14.0)]
    few, every = both_ways(kart_from(picker(8)), box, targets, cases=(CASE,))
    assert few.best[0].fit == pytest.approx(every.best[0].fit, abs=0.02)


def test_the_dial_looks_at_every_clock_while_it_can():
    stock = on_hand(Box(SIZES), [row_of(REARWARD)])
    fine = dial_of(stock, 0.1 * DEG)
    assert dial_of(stock, 5.0 * DEG).whole
    assert (fine.whole, fine.count, fine.looked) == (False, 3600, 72)
    assert np.allclose(fine.clocks, np.arange(72) * 5.0 * DEG)
    odd = dial_of(stock, 2.0 * np.pi / 1009.0)
    turns = odd.clocks / odd.step
    assert np.abs(turns - np.round(turns)).max() < 1e-9
    assert len(np.unique(turns)) == odd.looked


def test_corners_paired_from_few_of_each_come_as_near_with_as_little_work(monkeypatch):
    targets = wanted(np.random.default_rng(11), 3)
    box, kart = Box(SIZES, clock_step=30.0 * DEG), KART
    whole = search(kart, BASE, box, targets, sides="each", rods="kept")
    monkeypatch.setattr(corners, "MOST_OF_CORNER", 20)
    monkeypatch.setattr(corners, "PAIRED_VALUES", 1000)
    few = search(kart, BASE, box, targets, sides="each", rods="kept")
    assert few.best[0].fit == pytest.approx(whole.best[0].fit, abs=1e-12)
    assert [sum(one.work) for one in few.by_work] == [sum(one.work) for one in whole.by_work]


_FINEST = """
import numpy as np
from tests.helpers.karts import KART
from tests.helpers.searching import BASE, LOCKS
from kinematics.choose.search import search
from kinematics.choose.box import Box
from tests.helpers.reading import named
from kinematics.choose.targets import Target
targets = [Target(named("camber_left_deg", float(lock)), 1.0, 1.0) for lock in LOCKS]
found = search(KART, BASE, Box(tuple(np.linspace(0.5, 6.0, {sizes})), clock_step=np.radians({step})), targets)
assert found.seen == found.total and found.best
"""


@pytest.mark.parametrize(
    ("sizes", "step"),
    [
        pytest.param(6, 0.001, marks=pytest.mark.slow),
        pytest.param(40, 0.1, marks=pytest.mark.long),
    ],
)
def test_any_box_is_searched_under_one_gibibyte(sizes, step):
    assert peak_of(_FINEST.format(sizes=sizes, step=step)) < 1024 * 1024  # KiB
