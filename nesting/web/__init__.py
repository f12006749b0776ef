"""The local page: choose a pattern and a bolt, watch the marker get shorter, take it along.

A skin over the public functions of :mod:`nesting`: it reads what was asked, hands it on, and shows
what comes back. It computes nothing itself.
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from nesting.web.app import make_app

__all__ = ["make_app"]


def __getattr__(name: str) -> Any:
    """Load the application when it is first used: what reads strangers' files does without it."""
    if name != "make_app":
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from nesting.web.app import make_app  # noqa: PLC0415

    return make_app
