"""The judge: whether a marker can be cut. It knows cloth and marker, never who made it."""

from nesting.checks.marker_checks import check_marker

__all__ = ["check_marker"]
