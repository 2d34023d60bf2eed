"""Every run tries the same cases: a test that fails once fails each time until it is mended."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "same cases each run",
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("same cases each run")
