"""S. Umeyama, Least-squares estimation of transformation parameters between two point patterns, IEEE PAMI
13(4) (1991) 376-380: the example of section IV, in the plane."""

import numpy as np

POINTS = np.array([(0.0, 0.0), (1.0, 0.0), (0.0, 2.0)])
MOVED = np.array([(0.0, 0.0), (-1.0, 0.0), (0.0, 2.0)])
ROTATION = ((0.832, 0.555), (-0.555, 0.832))
SCALE, SHIFT = 0.721, (-0.8, 0.4)
