"""JCGM 100:2008, Guide to the expression of uncertainty in measurement: examples H.2 and H.3."""

import numpy as np

# H.2, table H.2: five simultaneous readings of V in V, I in mA, phi in rad
SIMULTANEOUS = np.array(
    [
        (5.007, 19.663, 1.0456),
        (4.994, 19.639, 1.0438),
        (5.005, 19.640, 1.0468),
        (4.990, 19.685, 1.0428),
        (4.999, 19.678, 1.0433),
    ]
)
# H.2, table H.4: R, X, Z in ohm, their standard uncertainties and correlations (R, X), (R, Z), (X, Z)
IMPEDANCE = (127.732, 219.847, 254.260)
IMPEDANCE_SURE = (0.071, 0.295, 0.236)
IMPEDANCE_TIED = (-0.588, -0.485, 0.993)

# H.3, table H.6: thermometer readings t in deg C and corrections b in deg C; the line about 20 deg C
THERMOMETER = np.array(
    [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511]
)
CORRECTION = -np.array([0.171, 0.169, 0.166, 0.159, 0.164, 0.165, 0.156, 0.157, 0.159, 0.161, 0.160])
ABOUT = 20.0
LINE, LINE_SURE, LINE_TIED, LINE_SCATTER = (-0.1712, 0.00218), (0.0029, 0.00067), -0.930, 0.0035
AT_30, AT_30_SURE = -0.1494, 0.0041
