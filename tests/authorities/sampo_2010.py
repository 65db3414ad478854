"""Sampo, Sorniotti, Crocombe, SAE 2010-01-0094: front share of lateral load transfer and frame stiffness.

Front and rear roll stiffness k_f and k_r joined by the frame's k_c, the mass held at both ends, all at one
height. With lam = k_f/(k_f + k_r), mu = k_c/(k_f + k_r) and the front share of the mass, the front share
of the load transfer follows from springs in series (re-derived here).
"""

FRONT_MASS_SHARE = 0.43

# lam, mu, front share of the load transfer; computed to six digits.
ROWS = (
    (0.3, 0.1, 0.388065),
    (0.5, 0.1, 0.450000),
    (0.7, 0.1, 0.517097),
    (0.3, 1.0, 0.322562),
    (0.5, 1.0, 0.486000),
    (0.7, 1.0, 0.653140),
)


def front_share(lam, mu, mass_share=FRONT_MASS_SHARE):
    """The closed form: each end's springs in series, weighted by the other end's mass."""
    rear = 1.0 - mass_share
    end_f, end_r = rear / mu + 1.0 / lam, mass_share / mu + 1.0 / (1.0 - lam)
    return end_r / (end_f + end_r)
