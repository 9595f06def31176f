"""Settings for all tests: property tests are the same on every machine and have no deadline."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "fretloom", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("fretloom")
