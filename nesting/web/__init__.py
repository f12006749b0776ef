"""The local page: choose a pattern and a bolt, watch the marker get shorter, take it along.

A skin over the public functions of :mod:`nesting`: it reads what was asked, hands it on, and shows
what comes back. It computes nothing itself.
"""

from nesting.web.app import make_app

__all__ = ["make_app"]
