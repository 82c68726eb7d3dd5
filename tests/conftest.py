"""Settings for every test: property tests draw the same examples each time and are never timed."""

from hypothesis import settings

settings.register_profile("steady", deadline=None, derandomize=True)
settings.load_profile("steady")
