"""One Hypothesis profile for the house: the same examples on every run, and no clock."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "house",
    derandomize=True,
    deadline=None,
    max_examples=40,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("house")
