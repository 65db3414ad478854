"""Lot, Dal Bianco, Lap time optimisation of a racing go-kart, Vehicle System Dynamics 54(2) (2016) 210-230.

The paper itself was not opened: its figures are those of a public listing of its parameters, which marks one
as uncertain. The steady states are those of the program that carries them: a twin, not a measurement.
Its frame is a spring at each wheel in series with the tyre; what follows from that in roll is linear and
worked out here.
"""

from math import degrees, pi

G = 9.81
MASS = 165.0  # kg
FROM_FRONT, FROM_REAR, COG_HEIGHT = 645.0, 400.0, 250.0  # mm
WHEELBASE = FROM_FRONT + FROM_REAR
FRONT_TRACK, REAR_TRACK, RADIUS = 1055.0, 1200.0, 139.0  # mm
FRONT_FRAME, REAR_FRAME = 17.7, 60.0  # N/mm at each wheel
FRONT_TYRE, REAR_TYRE = 64.5, 61.3  # N/mm
DROP = 58.0
"""mm that a front wheel drops per rad of road steer, the other one rising as much."""
WEIGHT = MASS * G

# Lateral g, longitudinal g, outside front, inside front, outside rear, inside rear, N; at 50 km/h.
STATES = (
    (1.454, 0.0, 369.2, 201.2, 903.3, 144.9),
    (1.02, 0.41, 288.5, 159.2, 845.2, 325.8),
    (1.02, -0.52, 449.4, 330.1, 686.1, 153.1),
    (0.51, -0.51, 421.8, 362.9, 550.0, 283.9),
)
STEER = 4.885 * pi / 180.0
"""Road steer in the first of them, rad; that of the others is not listed."""


def _series(*stiffnesses):
    return 1.0 / sum(1.0 / one for one in stiffnesses)


def in_roll(each_wheel, track):
    """Roll stiffness of two wheel springs a track apart, N·mm/rad."""
    return 0.5 * each_wheel * track**2


FRAME_FRONT, FRAME_REAR = in_roll(FRONT_FRAME, FRONT_TRACK), in_roll(REAR_FRAME, REAR_TRACK)
FRONT = in_roll(_series(FRONT_FRAME, FRONT_TYRE), FRONT_TRACK)
REAR = in_roll(_series(REAR_FRAME, REAR_TYRE), REAR_TRACK)
FRAME = _series(FRAME_FRONT, FRAME_REAR)
FRONT_SHARE = FRAME / FRAME_FRONT  # of the frame's compliance
REAR_PER_DROP = _series(FRONT, REAR) * (2.0 / FRONT_TRACK) / REAR_TRACK
"""N that leave the inside rear and come onto the outside rear, per mm that the inside front drops."""


def transfers(moment, drop):
    """N moved from inside to outside at the front and at the rear axle, by a rolling moment in N·mm and a
    drop of the inside front in mm, the outside front rising as much."""
    rear = moment * REAR / (FRONT + REAR) / REAR_TRACK + drop * REAR_PER_DROP
    return (moment - rear * REAR_TRACK) / FRONT_TRACK, rear


def moment_of(loads):
    """Rolling moment, N·mm, that the loads of a state carry."""
    outside_front, inside_front, outside_rear, inside_rear = loads
    at_front, at_rear = outside_front - inside_front, outside_rear - inside_rear
    return 0.5 * (at_front * FRONT_TRACK + at_rear * REAR_TRACK)


if __name__ == "__main__":
    for name in ("FRAME_FRONT", "FRAME_REAR", "FRAME", "FRONT", "REAR"):
        print(f"{name}: {globals()[name] / 1e3 / degrees(1.0):.2f} N·m/deg")
    print(f"FRONT_SHARE: {FRONT_SHARE:.4f}, REAR_PER_DROP: {REAR_PER_DROP:.4f} N/mm")
    for lateral, _, *loads in STATES:
        print(lateral, moment_of(loads) / (WEIGHT * lateral * COG_HEIGHT))
