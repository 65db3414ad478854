"""JCGM 101:2008, Propagation of distributions using a Monte Carlo method (supplement 1 to the GUM).

9.2.3: the sum of four rectangular inputs of unit standard uncertainty. 9.2.4: one of them ten times as
uncertain; its values are from memory.
"""

EVEN_95 = 3.88
ONE_TEN_TIMES_95 = 17.0
ONE_TEN_TIMES_FIRST_ORDER_95 = 19.9
