"""Settings for all tests."""

from hypothesis import settings

# The first call of a compiled kernel, or a busy machine, is no failure of a law.
settings.register_profile("project", deadline=None)
settings.load_profile("project")
