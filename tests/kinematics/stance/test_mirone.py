"""A published kart: what its paper does not give is fitted once, the rest is predicted.

The predictions are those of the fit on two of the five load rows and the torsion row. Beside it stand the
fits on all rows, as printed and with what the paper prints let go, against those of another solver: see
tests/authorities/mirone_fitted.py. Run this file to print the tables, no row left out.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import inf

import numpy as np
import pytest

from tests.authorities import mirone_2010 as paper
from tests.authorities.mirone_fitted import (
    FOUND_ELSEWHERE_N,
    LATERAL,
    LISTED,
    LOADS,
    LOCK,
    SUMMED,
    TORSION,
    TORSION_LOCK,
    Fit,
    each_row,
    fits,
    loads,
    summary,
    torsion_deg,
)


def table(of: list[Fit]) -> str:
    """Every fit in a line, then every row of the paper with what each fit is off by."""
    blocks = ([SUMMED, *summary(of)], [LISTED, *each_row(of)])
    return "\n\n".join("\n".join(aligned(lines)) for lines in blocks)


def aligned(lines: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    return ["  ".join(cell.rjust(w) for cell, w in zip(line, widths, strict=True)) for line in lines]


def implied_height(row: int) -> float:
    """Height of the centre of gravity (mm) that a row's own loads imply for wheels at their tracks."""
    rear_out, rear_in, front_in, front_out = LOADS[row]
    moment = 0.5 * paper.REAR_TRACK_MM * (rear_out - rear_in)
    moment += 0.5 * paper.FRONT_TRACK_MM * (front_out - front_in)
    return moment / (paper.WEIGHT_N * LATERAL[row])


@pytest.fixture(scope="module")
def every():
    """On two load rows; on all; with the frame's stiffness free; with each row's lateral g free too."""
    return fits()


@pytest.fixture(scope="module")
def fitted(every):
    return every[0].kart


def test_the_fitted_numbers_are_those_the_figures_imply(every):
    for one in every:
        assert paper.SCRUB_MM[0] < one.scrub < paper.SCRUB_MM[1]
        assert paper.COG_HEIGHT_MM[0] - 1.0 < one.cog_height < paper.COG_HEIGHT_MM[1]
        assert one.front_share > 0.6  # most of the compliance in front, as the text says


def test_every_fit_misses_the_twenty_loads_by_what_another_solver_found(every):
    """24.7, 21.5, 15.3 and 5.9 N RMS, to the digit: what is left over is the model's, not the solver's."""
    assert [round(one.rms, 1) for one in every] == list(FOUND_ELSEWHERE_N)


def test_the_printed_stiffness_and_lateral_g_do_not_fit_the_printed_loads(every):
    """The other solver's: 258 N·m/deg for 166, torsion within 0.034 deg; 0.67 and 0.83 g for 0.56 and 0.94.

    The height of the centre of gravity that goes with its g is not told, and only their product counts: 0.02.
    """
    softer, free = every[2:]
    assert softer.nm_per_deg == pytest.approx(258.0, abs=0.5)
    assert np.abs(softer.torsion_miss).max() == pytest.approx(0.034, abs=0.0006)
    assert free.lateral_g[2:4] == pytest.approx([0.67, 0.83], abs=0.02)


def test_roll_balance_alone_forbids_a_fit_of_the_printed_g(every):
    """No static kart misses by less than 13.9 N RMS (the other solver's), by the loads' own moments.

    Whatever the height of the centre of gravity, the least change of four loads that puts a row's moment
    right goes with their arms. With the arms at the tracks, where the kart's move with lock: 0.15 N. The
    height that goes with it is that of the fits on all rows.
    """
    arms = 0.5 * np.array([1.0, -1.0, -1.0, 1.0])
    arms *= [paper.REAR_TRACK_MM, paper.REAR_TRACK_MM, paper.FRONT_TRACK_MM, paper.FRONT_TRACK_MM]
    moments, inertia = LOADS @ arms, paper.WEIGHT_N * LATERAL
    height = (moments @ inertia) / (inertia @ inertia)
    wrong = moments - inertia * height
    least = np.sqrt(np.sum(wrong**2) / (arms @ arms) / LOADS.size)
    assert least == pytest.approx(13.9, abs=0.15)
    assert [one.cog_height for one in every[1:3]] == pytest.approx([height, height], abs=0.5)


def test_the_table_leaves_no_row_out(every):
    told = [line.strip() for line in table(every).splitlines()]
    rows = {f"{lock:.0f}° at {g:.2f} g, N": "  ".join(f"{v:.0f}" for v in n) for lock, g, n in paper.LOADS}
    rows |= {f"torsion at {lock:.0f}°, °": f"{published:.3f}" for lock, published in paper.TORSION}
    for place, published in rows.items():
        [line] = [line for line in told if line.startswith(place)]
        assert line.removeprefix(place).strip().startswith(published)
        assert line.count("*") >= len(every) - 1  # only the first fit leaves rows to be predicted


def test_front_loads_are_predicted(fitted):
    """Rows left out of the fit: within 16 N, three times the reading error."""
    rest = [1, 2, 4]
    miss = loads(fitted, LOCK[rest], LATERAL[rest])[:, 2:] - LOADS[rest][:, 2:]
    assert np.abs(miss).max() < 16.0


def test_rear_loads_are_predicted_as_far_as_the_rows_agree(fitted):
    """A weak bar, confessed: up to 60 N at 30 deg, 25 N at the smaller locks.

    No static kart can do better on all rows at once: see the next test.
    """
    miss = np.abs(loads(fitted, LOCK, LATERAL)[:, :2] - LOADS[:, :2]).max(axis=1)
    assert miss[[1, 3, 4]].max() < 25.0
    assert miss.max() < 60.0


def test_the_rows_themselves_imply_different_heights_of_the_centre_of_gravity():
    """265 mm to 358 mm: far more than 5 N of reading can explain (8 mm at 0.94 g, 25 mm at 0.3 g).

    At 30 deg more load changes sides than at 20 deg for the same lateral force. Wider front treads were
    tried in the fit and explain none of it; the rows come from a simulated transient, and its roll inertia
    is not told.
    """
    heights = np.array([implied_height(i) for i in range(5)])
    assert heights.min() == pytest.approx(265.0, abs=1.0)
    assert heights.max() == pytest.approx(358.0, abs=1.0)
    assert heights.argmax() == 2
    assert heights.argmin() == 3


def test_frame_torsion_follows_lock(fitted):
    """Within 0.02 deg to 30 deg of lock; ours goes on in proportion where the paper's curve flattens."""
    miss = np.abs(torsion_deg(fitted, TORSION_LOCK) - TORSION)
    assert miss[:3].max() < 0.025
    assert miss.max() < 0.08


def test_frame_torsion_is_the_same_at_different_lateral_acceleration(fitted):
    for lock, low, high in paper.SAME_AT_G:
        twist = torsion_deg(fitted, [lock, lock], np.array([low, high]))
        assert abs(twist[1] - twist[0]) < 0.025


def test_steering_loads_the_inside_front_and_the_outside_rear(fitted):
    straight, locked = loads(fitted, [0.0, 30.0], 0.0)
    rear_out, rear_in, front_in, front_out = locked - straight
    assert min(rear_out, front_in) > 50.0
    assert max(rear_in, front_out) < -50.0


def test_the_inside_front_leads_up_to_the_published_lateral_acceleration(fitted):
    """At 20 deg of the steering wheel, the lock of the 0.94 g row."""
    g = np.array([0.0, 0.3, paper.INSIDE_FRONT_LEADS_UP_TO_G, paper.NOT_AT_G])
    at = loads(fitted, 20.0, g)
    lead = at[:, 2] - at[:, 3]
    assert (lead[:3] > 0.0).all()
    assert lead[3] < -20.0


def test_standing_still_at_lock_a_front_wheel_tends_to_lift(fitted):
    """The outside front loses load steadily, more than half of it by 50 deg; on a rigid frame it lifts."""
    lock = np.array([0.0, 10.0, 20.0, 30.0, 40.0, 50.0])
    outside = loads(fitted, lock, 0.0)[:, 3]
    assert (np.diff(outside) < -25.0).all()
    assert outside[-1] < 0.5 * outside[0]
    rigid = replace(fitted, frame=replace(fitted.frame, stiffness=inf))
    assert loads(rigid, lock, 0.0)[-1, 3] == 0.0


if __name__ == "__main__":
    print(table(fits()))
