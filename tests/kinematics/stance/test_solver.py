"""The stance solver: reference, balance, limits, tipping, symmetry, batches and the readable energy."""

from dataclasses import replace
from math import inf

import numpy as np
import pytest

from kinematics.corner.contact import support_point
from kinematics.frames import Array, dot, mirror
from kinematics.lock import sweep
from kinematics.parts import Kart, LoadCase
from kinematics.stance.energy import energy as in_components
from kinematics.stance.equilibrium import Stance, equilibrium, road_of, settle
from kinematics.stance.inertia import body
from kinematics.stance.newton import step
from kinematics.stance.slopes import Attitude, Wheels, front_axle, rear_axle, turns
from kinematics.stance.springs import springs
from kinematics.stance.states import States
from kinematics.standing.stand import stand
from tests.helpers.karts import KART, REFERENCE
from tests.helpers.random_karts import as_measured, front_wheels, random_kart, random_sweep
from tests.twins.energy import compressions, energy

SEEDS = range(30)
ANGLES = ("pitch", "roll", "twist_front", "twist_rear")
FIELDS = ("height", "pitch", "roll", "twist_front", "twist_rear", "loads", "clearance")


@pytest.mark.parametrize("seed", SEEDS)
def test_the_reference_setting_at_rest_gives_back_the_reference_stance(seed):
    kart = random_kart(np.random.default_rng(seed))
    standing = equilibrium(kart, *as_measured(kart))
    assert abs(standing.height - kart.frame.axis_height) < 1e-6
    for angle in (standing.pitch, standing.roll, standing.twist_front, standing.twist_rear):
        assert abs(angle) < 1e-9
    assert np.abs(standing.loads - kart.loads).max() < 1e-6
    assert not standing.clearance.any()


def test_the_swept_reference_setting_gives_it_back_too():
    standing = stand(sweep(KART, REFERENCE, [0.0]), _case(0.0))
    assert abs(standing.height[0] - KART.frame.axis_height) < 1e-6
    assert np.abs(standing.ride_height_change_front) < 1e-6
    assert np.abs(standing.loads[0] - KART.loads).max() < 1e-6


def _case(lateral_g):
    return LoadCase("case", lateral_g=lateral_g)


def moments(standing: Stance, swept, lateral, forward):
    """Sum of forces, and of moments about the kart's roll axis and the road's y; with their sizes.

    The roll axis is pitched with the frame. About the road's own x the moments balance but for sin(pitch)
    times the yaw moment that a centre of gravity beside the mid-plane needs to keep the kart straight.
    """
    kart, shift = swept.kart, swept.setting.rear_axle_shift
    left, spin_left, right, spin_right = (v[0] for v in front_wheels(swept))
    rear = np.array([0.0, 0.5 * kart.rear_track, kart.rear_tyre.radius + shift])
    y = np.array([0.0, 1.0, 0.0])
    one = replace(standing, **{n: getattr(standing, n)[0] for n in FIELDS})
    front_road, seat_road = one.road_front, road_of(one.pitch, one.roll)
    rear_road = road_of(one.pitch, one.roll + one.twist_rear)
    axis = np.array([0.0, 0.0, kart.frame.axis_height])

    def on_road(point: Array, road):
        arm = point - axis
        return np.array([dot(arm, road.heading), dot(arm, road.left), one.height + dot(arm, road.normal)])

    points = [
        on_road(support_point(left, spin_left, kart.front_tyre, front_road), front_road),
        on_road(support_point(right, spin_right, kart.front_tyre, front_road), front_road),
        on_road(support_point(rear, y, kart.rear_tyre, rear_road), rear_road),
        on_road(support_point(mirror(rear), -y, kart.rear_tyre, rear_road), rear_road),
    ]
    s = springs(kart)
    weight, floor = s.weight, np.zeros(3)
    share = s.cog[0] / kart.wheelbase
    forces = [(p, np.array([0.0, 0.0, n])) for p, n in zip(points, one.loads, strict=True)]
    forces.append((on_road(np.array(s.cog) + axis, seat_road), -weight * np.array([forward, lateral, 1.0])))
    forces.append((on_road(floor, front_road), weight * np.array([0.0, share * lateral, 0.0])))
    forces.append((on_road(floor, rear_road), weight * np.array([forward, (1.0 - share) * lateral, 0.0])))
    moments = np.array([np.cross(p, f) for p, f in forces])
    each = moments @ np.array([[np.cos(one.pitch), 0.0, -np.sin(one.pitch)], [0.0, 1.0, 0.0]]).T
    return np.sum([f for _, f in forces], axis=0), each.sum(axis=0), np.abs(each).sum(axis=0), weight


@pytest.mark.parametrize("seed", SEEDS)
def test_loads_sum_to_the_weight_and_moments_balance(seed):
    rng = np.random.default_rng(100 + seed)
    swept = random_sweep(rng)
    lateral, forward = rng.uniform(-0.9, 0.9), rng.uniform(-0.4, 0.4)
    standing = equilibrium(swept.kart, *front_wheels(swept), swept.setting.rear_axle_shift, lateral, forward)
    assert not standing.tips.any()
    force, moment, size, weight = moments(standing, swept, lateral, forward)
    assert np.abs(force).max() < 1e-6 * weight
    assert np.abs(moment / size).max() < 1e-6


def random_states(seed, count=7):
    """A random kart and states around its reference stance, with an attitude to look at them from."""
    rng = np.random.default_rng(seed)
    kart = random_kart(rng)
    s = springs(kart)
    left, spin, right, spin_right = (np.repeat(v[None], count, 0) for v in as_measured(kart))
    place = np.stack([left, right]) + rng.normal(scale=4.0, size=(2, count, 3))
    spins = np.stack([spin, spin_right]) + rng.normal(scale=0.1, size=(2, count, 3))
    spins /= np.linalg.norm(spins, axis=-1, keepdims=True)
    place[..., 2] -= kart.frame.axis_height
    wheels = Wheels(*np.moveaxis(place, -1, 0), *np.moveaxis(spins, -1, 0))
    zeta = np.full(count, kart.rear_tyre.radius - kart.frame.axis_height) + rng.normal(size=count)
    g, floors = (rng.uniform(-1, 1, count), rng.uniform(-0.5, 0.5, count)), rng.uniform(20, 150, (2, count))
    states = States(wheels, zeta, *g, *floors)
    angles = rng.normal(scale=0.01, size=(4, count))
    return s, states, Attitude(kart.frame.axis_height + rng.normal(size=count), *angles)


def test_the_fast_slopes_are_those_of_the_readable_energy():
    """Central differences of the energy against the derivatives the Newton step uses."""
    for seed in range(20):
        s, states, at = random_states(seed)
        t = turns(at)
        front, rear = front_axle(s, states.wheels, t), rear_axle(s, states.rear_zeta, t)
        own = body(s, t, states)
        fast = [
            front.g_z + rear.g_z + own.g_z,
            front.g_p + rear.g_p + own.g_p,
            front.g_a + own.g_front + rear.g_a + own.g_rear + own.g_roll,
        ]
        both = np.concatenate([front.compression, rear.compression])
        assert np.abs(both - compressions(s, states.wheels, states.rear_zeta, at)).max() < 1e-9
        for i, slope in enumerate(fast):
            h = (1e-3, 1e-6, 1e-6)[i]
            ends = [energy(s, states, at._replace(**{at._fields[i]: at[i] + by})) for by in (h, -h)]
            slow = (ends[0] - ends[1]) / (2.0 * h)
            assert np.abs(slope - slow).max() < 1e-6 * np.abs(slow).max() + 1e-2


def differences(s, states, at):
    """Slope (5, n) and curvature (5, 5, n) of the readable energy by central differences."""
    near = np.array([1e-2, *[3e-5] * 4])[:, None]

    def moved(by):
        return energy(s, states, Attitude(*(np.stack(at) + near * by[:, None])))

    slope = np.stack([moved(e) - moved(-e) for e in np.eye(5)]) / (2.0 * near)
    corners = [
        [moved(a + b) - moved(a - b) - moved(b - a) + moved(-a - b) for b in np.eye(5)] for a in np.eye(5)
    ]
    return slope, np.array(corners) / (4.0 * near * near.T)[..., None]


def stiffened(s, by):
    """What damping adds to the curvature (5, 5): the springs of both axles once more."""
    more, half = by * (s.front.stiffness + s.rear.stiffness), float(s.half_rear_track)
    over = [[1.0, 0.0, 0.0, 0.0, 0.0], [0.0, float(s.wheelbase), 0.0, 0.0, 0.0]]
    each = [[*over, [0.0, 0.0, half, half, 0.0]], [*over, [0.0, 0.0, half, 0.0, half]]]
    return more * sum(np.outer(row, row) for part in each for row in part)


@pytest.mark.parametrize("lean", [0.01, 0.3])
def test_a_newton_step_is_that_of_the_readable_energys_slope_and_curvature(lean):
    """From a wheel that just leaves the road to a kart that leans far; damped, so that each step is one."""
    tried = 0
    for seed in range(20):
        s, states, at = random_states(seed)
        if not np.all(s.compliance):
            continue
        at = Attitude(at.height, *np.random.default_rng(seed).normal(scale=lean, size=(4, at.height.size)))
        made = step(s, states, at, damping=np.ones(at.height.size))
        slope, curve = differences(s, states, at)
        curve = curve + stiffened(s, 1.0)[..., None]
        change = np.stack(made.change)
        left = np.einsum("ijn,jn->in", curve, change) + slope
        size = np.einsum("ijn,jn->in", np.abs(curve), np.abs(change)) + np.abs(slope)
        apart = np.abs(compressions(s, states.wheels, states.rear_zeta, at)).min(axis=0) > 0.3
        assert (np.abs(left)[:, made.sound & apart] < 1e-5 * size[:, made.sound & apart]).all()
        tried += np.count_nonzero(made.sound & apart)
    assert tried > 40


@pytest.mark.parametrize("lean", [0.01, 0.5])
def test_the_energy_in_components_is_the_readable_one(lean):
    """From a wheel that just leaves the road to a kart that is about to fall."""
    for seed in range(20):
        s, states, at = random_states(seed)
        angles = np.random.default_rng(seed).normal(scale=lean, size=(4, at.height.size))
        at = Attitude(at.height, *angles)
        readable = energy(s, states, at)
        assert np.abs(in_components(s, states, at)[0] - readable).max() < 1e-12 * np.abs(readable).max()


def test_batches_are_the_loop_over_single_states():
    swept = random_sweep(np.random.default_rng(5))
    wheels = front_wheels(swept)
    for shape in ((), (1,), (3, 1, 2)):
        g = np.linspace(-0.8, 0.9, int(np.prod(shape))).reshape(shape)
        shift = np.linspace(0.0, 3.0, g.size).reshape(shape)
        whole = equilibrium(swept.kart, *(v[0] for v in wheels), shift, g, 0.1)
        assert whole.tips.shape == shape
        assert whole.loads.shape == (*shape, 4)
        for index in np.ndindex(shape):
            one = equilibrium(swept.kart, *(v[0] for v in wheels), shift[index], g[index], 0.1)
            for name in FIELDS:
                assert np.abs(getattr(whole, name)[index] - getattr(one, name)).max() < 1e-8


def test_no_argument_is_written_to():
    swept = random_sweep(np.random.default_rng(6))
    wheels = [np.array(v) for v in front_wheels(swept)]
    for v in wheels:
        v.flags.writeable = False
    g = np.array([0.3])
    g.flags.writeable = False
    equilibrium(swept.kart, *wheels, 0.0, g)


@pytest.mark.parametrize("seed", range(10))
def test_the_mirrored_kart_stands_mirrored(seed):
    rng = np.random.default_rng(200 + seed)
    swept = random_sweep(rng)
    kart, (left, spin_left, right, spin_right) = swept.kart, front_wheels(swept)
    fl, fr, rl, rr = kart.loads
    other = replace(kart, left=kart.right, right=kart.left, loads=(fr, fl, rr, rl))
    shift = swept.setting.rear_axle_shift
    one = equilibrium(kart, left, spin_left, right, spin_right, shift, 0.6, -0.2)
    two = equilibrium(
        other, mirror(right), mirror(spin_right), mirror(left), mirror(spin_left), shift, -0.6, -0.2
    )
    assert np.abs(one.loads - two.loads[..., [1, 0, 3, 2]]).max() < 1e-6
    assert np.abs(one.roll + two.roll).max() < 1e-9
    assert np.abs(one.pitch - two.pitch).max() < 1e-9
    assert np.abs(one.twist + two.twist).max() < 1e-9


def at_lock(kart: Kart, lateral_g=0.0, handwheel=0.35):
    return stand(sweep(kart, REFERENCE, [handwheel]), _case(lateral_g))


def test_a_rigid_frame_is_the_limit_of_stiffer_frames():
    rigid = at_lock(replace(KART, frame=replace(KART.frame, stiffness=inf)))
    assert rigid.twist[0] == 0.0
    last = inf
    for stiffness in (1e9, 1e10, 1e11, 1e13):
        stiff = at_lock(replace(KART, frame=replace(KART.frame, stiffness=stiffness)))
        miss = np.abs(stiff.loads - rigid.loads).max()
        assert miss < last
        last = miss
    assert last < 0.01


def test_rigid_tyres_are_the_limit_of_stiffer_tyres():
    def on(stiffness):
        tyres = (replace(t, stiffness=stiffness) for t in (KART.front_tyre, KART.rear_tyre))
        front, rear = tyres
        return at_lock(replace(KART, front_tyre=front, rear_tyre=rear))

    rigid = on(inf)
    assert np.abs(rigid.loads.sum() - sum(KART.loads)) < 1e-3
    miss = [np.abs(on(k).loads - rigid.loads).max() for k in (1e3, 1e4, 1e6)]
    assert miss[0] > miss[1] > miss[2]
    assert miss[2] < 0.05


def test_a_rigid_kart_on_rigid_tyres_stands_on_three_wheels():
    """Its inside rear then hangs by the pure geometry of the sweep (definition: rigid inside-rear lift)."""
    front, rear = (replace(t, stiffness=inf) for t in (KART.front_tyre, KART.rear_tyre))
    kart = replace(KART, frame=replace(KART.frame, stiffness=inf), front_tyre=front, rear_tyre=rear)
    swept = sweep(kart, REFERENCE, np.radians([20.0, 40.0]))
    standing = stand(swept, _case(0.6))
    assert (np.count_nonzero(standing.loads > 0.0, axis=-1) == 3).all()
    assert (standing.loads[:, 2] == 0.0).all()
    # The sweep's lift is square to the plane through the other three at the road of the reference stance;
    # the tyres' support points move a little as the kart leans on them: hence 2 %.
    assert standing.clearance[:, 2] == pytest.approx(swept.rigid_inside_rear_lift, rel=0.02)


def test_signs_of_the_attitude():
    """A left turn leans the kart to the right: left side up. Braking dips the nose; so does a raised axle."""
    wheels = as_measured(KART)
    assert equilibrium(KART, *wheels, 0.0, 0.5).roll > 0.0
    left_turn = equilibrium(KART, *wheels, 0.0, 0.5).loads
    assert left_turn[1] > left_turn[0]
    assert left_turn[3] > left_turn[2]
    assert equilibrium(KART, *wheels, 0.0, 0.0, -0.5).pitch > 0.0
    raised = equilibrium(KART, *wheels, 10.0)
    assert raised.ride_height_change_rear == pytest.approx(-10.0, abs=0.3)
    assert raised.pitch < 0.0


def test_settling_reports_every_state():
    s, states, _ = random_states(1, 50)
    at, compression, settled = settle(s, states, np.zeros(50, dtype=int))
    assert at.shape == (5, 50)
    assert settled.shape == (50,)
    assert compression.shape == (4, 50)
    assert settled.all()
