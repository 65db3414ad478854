"""D. York, Canadian Journal of Physics 44 (1966) 1079-1086: Pearson's data with York's weights.

A line through points uncertain in both coordinates; data and result as in York et al., American Journal of
Physics 72 (2004) 367-375, table I, from memory, held to the printed line.
"""

import numpy as np

X = np.array([0.0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4])
Y = np.array([5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5])
WEIGHT_X = np.array([1000.0, 1000.0, 500.0, 800.0, 200.0, 80.0, 60.0, 20.0, 1.8, 1.0])
WEIGHT_Y = np.array([1.0, 1.8, 4.0, 8.0, 20.0, 20.0, 70.0, 70.0, 100.0, 500.0])
LINE, LINE_SURE = (5.47991022, -0.480533407), (0.29497, 0.05799)
