"""Mirone, Multi-body elastic simulation of a go-kart: correlation between frame stiffness and dynamic
performance, International Journal of Automotive Technology 11(4) (2010) 461-469.

A kart simulated as a multi-body system with an elastic frame. Frame stiffness was measured; tyre
stiffnesses are the author's estimate. Wheel loads were read off his plots to about 5 N, torsion off a
curve. Not given in the paper: scrub radius, height of the centre of gravity, steering arms, the height of
the frame's torsion axis, the shape of the tread, and the frame's split (the text says that most of its
compliance lies in the narrow front part).
"""

WHEELBASE_MM, FRONT_TRACK_MM, REAR_TRACK_MM = 1068.0, 960.0, 1160.0
CASTER_DEG, INCLINATION_DEG = 12.8, 6.5
FRONT_RADIUS_MM, REAR_RADIUS_MM = 130.0, 140.0
FRAME_NM_PER_DEG = 166.0
FRONT_TYRE_N_PER_MM, REAR_TYRE_N_PER_MM = 150.0, 200.0

# The paper says 140 kg and 43/57; the loads of every row below sum to this weight, 43.3 % of it in front.
WEIGHT_N, FRONT_SHARE = 1410.0, 0.433

# Steering-wheel angle deg, frame torsion deg; the same at different lateral acceleration.
TORSION = ((15.0, 0.295), (20.0, 0.39), (30.0, 0.57), (40.0, 0.68), (50.0, 0.87))
SAME_AT_G = ((30.0, 0.30, 0.56), (20.0, 0.39, 0.94))

# Steering-wheel angle deg, lateral g, then N: rear outside, rear inside, front inside, front outside.
LOADS = (
    (30.0, 0.30, (593.0, 206.0, 395.0, 216.0)),
    (20.0, 0.39, (572.0, 235.0, 333.0, 267.0)),
    (30.0, 0.56, (676.0, 125.0, 343.0, 266.0)),
    (20.0, 0.94, (683.0, 138.0, 259.0, 331.0)),
    (15.0, 0.16, (504.0, 307.0, 342.0, 256.0)),
)
READING_N = 5.0

# Conclusions: steering loads the inside front and the outside rear; the inside front carries more than the
# outside front up to the first of these lateral accelerations and less at the second; standing still at
# lock a front wheel tends to lift.
INSIDE_FRONT_LEADS_UP_TO_G, NOT_AT_G = 0.65, 0.94

# What his figures imply for the numbers not given.
SCRUB_MM, COG_HEIGHT_MM = (100.0, 150.0), (270.0, 370.0)
ROAD_STEER_RATIO = (0.30, 0.39)
