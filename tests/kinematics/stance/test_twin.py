"""The stance against a slow twin: SciPy minimising an energy of whole rotations (tests/stance_twin.py)."""

import numpy as np
import pytest

from kinematics.stance.equilibrium import Floor, Stance, equilibrium
from tests.helpers.cost.depth import times
from tests.helpers.random_karts import front_wheels, random_sweep
from tests.twins.stance import ARM, Twin

STATES = times(30, 120)
pytestmark = pytest.mark.deep


def drawn(seed, largest_g):
    """One random kart, setting, lock position and load case: the stance and its twin."""
    rng = np.random.default_rng(seed)
    swept = random_sweep(rng)
    g = rng.uniform(-largest_g, largest_g), rng.uniform(-0.6, 0.5)
    wheels, shift, floor = front_wheels(swept), swept.setting.rear_axle_shift, rng.uniform(20, 150, 2)
    standing = equilibrium(swept.kart, *wheels, shift, *g, Floor(*floor))
    left, spin_left, right, spin_right = (v[0] for v in wheels)
    return standing, Twin(swept.kart, [(left, spin_left), (right, spin_right)], shift, *g, floor)


def unknowns(standing: Stance):
    """The twin's unknowns at the stance found."""
    angles = standing.pitch, standing.roll, standing.twist_front, standing.twist_rear
    return np.array([standing.height[0], *(ARM * angle[0] for angle in angles)])


@pytest.fixture(scope="module")
def pairs():
    """Stance, twin and the twin's own resting place, found from the reference attitude."""
    drawn_pairs = [drawn(seed, 1.4) for seed in range(STATES)]
    return [(standing, twin, twin.rest()) for standing, twin in drawn_pairs]


def test_the_two_agree_on_which_karts_tip(pairs):
    tips = [bool(standing.tips[0]) for standing, _, _ in pairs]
    twin_tips = [q is None or np.count_nonzero(twin.loads(q)) < 3 for _, twin, q in pairs]
    assert tips == twin_tips


def test_loads_clearances_and_attitude_agree(pairs):
    """0.05 N and 0.001 mm are the bars; the twin's own stopping rule allows about 0.001 N."""
    resting = [(s, t, q) for s, t, q in pairs if not s.tips[0]]
    assert len(resting) > 0.95 * STATES
    for standing, twin, q in resting:
        assert np.abs(twin.loads(q) - standing.loads[0]).max() < 0.01
        clear = np.maximum(-twin.compressions(q), 0.0)
        assert np.abs(clear - standing.clearance[0]).max() < 1e-4
        free = np.array([True, True, True, *twin.twists])
        assert np.abs((unknowns(standing) - q)[free]).max() < 1e-4


def test_the_sample_holds_wheels_in_the_air_and_rigid_frames(pairs):
    assert sum(s.clearance.max() > 0.1 for s, _, _ in pairs) > 0.1 * STATES
    assert sum(not t.twists.any() for _, t, _ in pairs) > 0.03 * STATES


def test_the_kart_rests_where_no_nearby_attitude_has_less_energy():
    """Shoulders give the energy a kink that a smooth minimiser may not end in: probe around the stance."""
    rng = np.random.default_rng(1)
    for seed in range(40):
        standing, twin = drawn(seed, 1.0)
        if standing.tips[0]:
            continue
        q = unknowns(standing)
        rest = twin.energy(q)
        steps = rng.normal(size=(60, 5)) * 10.0 ** rng.uniform(-3.0, 0.5, (60, 1))
        assert min(twin.energy(q + by) for by in steps) > rest - 1e-6
        assert np.abs(twin.loads(q) - standing.loads[0]).max() < 0.01


def test_the_energy_twin_sees_a_wrong_stance():
    """The probe above can fail: a stance moved by a twentieth of a millimetre is found out."""
    standing, twin = drawn(3, 1.0)
    q = unknowns(standing) + np.array([0.05, 0.0, 0.0, 0.0, 0.0])
    assert twin.energy(q - [0.05, 0.0, 0.0, 0.0, 0.0]) < twin.energy(q) - 1e-2
