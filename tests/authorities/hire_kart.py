"""Steering of an electric hire kart, read with a laser (public research repository: figures only).

Angle at the encoder of the handwheel (unit not stated; taken as rad) and of the left wheel in deg, + left.
Wheelbase 1.19 m, half tracks 0.48 and 0.54 m. Nine of its 28 readings; the others were not at hand.
"""

import numpy as np

WHEELBASE_MM, FRONT_TRACK_MM, REAR_TRACK_MM = 1190.0, 960.0, 1080.0
ENCODER = np.array([-0.6641, -0.5508, -0.4004, -0.2002, 0.0, 0.2002, 0.3994, 0.6006, 0.6885])
LEFT_WHEEL_DEG = np.array([-17.52, -18.48, -16.73, -10.03, 0.0, 11.32, 21.85, 30.93, 33.78])
FIT_RMS_DEG = 0.1
