"""Settings for all tests."""

import os

from hypothesis import settings

# The first call of a compiled kernel, or a busy machine, is no failure of a law. In CI the same
# examples are tried each time, so that a red run is the change's own doing; at a desk they differ.
settings.register_profile("project", deadline=None, derandomize="CI" in os.environ)
settings.load_profile("project")
