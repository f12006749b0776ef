"""Tests of the packages; the helpers here are imported as ``tests.<name>``."""
