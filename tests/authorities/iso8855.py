"""ISO 8855:2011, Road vehicles: vehicle dynamics and road-holding ability: vocabulary.

Clauses used: camber 7.1.17 (+ top outward), static toe 7.1.6 (+ toe-in), steering-wheel angle 7.1.8 (+ left
turn), Ackermann geometry 7.1.9, castor angle 7.2.2, castor offset at ground 7.2.3, kingpin inclination
7.2.5, kingpin offset at ground 7.2.6 (+ when the axis meets the ground inboard of the contact centre; the
sign also in Barton & Fieldhouse, Automotive Chassis Engineering, Springer 2018, 3.1.5.3).

The example below applies those definitions to one kingpin; its numbers were computed by independent code.
"""

KINGPIN_LOW = (6.0, 420.0, 110.0)
KINGPIN_HIGH = (-10.0, 408.0, 185.0)
CONTACT_CENTRE = (0.0, 530.0, 0.0)

CASTER_DEG = 12.04258
KINGPIN_INCLINATION_DEG = 9.09028
GROUND_POINT = (29.4667, 437.6, 0.0)
TRAIL_MM = 29.4667
SCRUB_MM = 92.4
# Printed to 1e-5 deg and 1e-4 mm.
