"""The judge: whether a marker can be cut, and is what was asked. It never knows who made it."""

from nesting.checks.asked import Asked
from nesting.checks.asked_checks import asked_findings
from nesting.checks.marker_checks import check_marker

__all__ = ["Asked", "asked_findings", "check_marker"]
