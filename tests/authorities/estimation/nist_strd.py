"""NIST Statistical Reference Datasets, nonlinear regression (public domain): Rat43 and MGH09.

https://www.itl.nist.gov/div898/strd/nls/: the data, the model, both starts, the certified values and standard
deviations, eleven digits. Data recalled from the data files and held to them by the certified values they
give.
"""

import numpy as np

RAT43_Y = np.array(
    [
        *(16.08, 33.83, 65.80, 97.20, 191.55, 326.20, 386.87, 520.53),
        *(590.03, 651.92, 724.93, 699.56, 689.96, 637.56, 717.41),
    ]
)
RAT43_X = np.arange(1.0, 16.0)
RAT43_STARTS = ((100.0, 10.0, 1.0, 1.0), (700.0, 5.0, 0.75, 1.3))
RAT43 = (6.9964151270e02, 5.2771253025e00, 7.5962938329e-01, 1.2792483859e00)
RAT43_SD = (1.6302297817e01, 2.0828735829e00, 1.9566123451e-01, 6.8761936385e-01)
MGH09_Y = np.array([0.1957, 0.1947, 0.1735, 0.1600, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246])
MGH09_X = np.array([4.0, 2.0, 1.0, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625])
MGH09_STARTS = ((25.0, 39.0, 41.5, 39.0), (0.25, 0.39, 0.415, 0.39))
MGH09 = (1.9280693458e-01, 1.9128232873e-01, 1.2305650693e-01, 1.3606233068e-01)


def rat43(b):
    """What is left of the data at values b."""
    return b[0] / (1.0 + np.exp(b[1] - b[2] * RAT43_X)) ** (1.0 / b[3]) - RAT43_Y


def mgh09(b):
    """What is left of the data at values b."""
    x = MGH09_X
    return b[0] * (x**2 + x * b[1]) / (x**2 + x * b[2] + b[3]) - MGH09_Y
