"""What is said of a marker that was laid: what the judge finds, and what is to be asked."""

from nesting.checks import Asked, check_marker
from nesting.marker.hands import hand_doubts
from nesting.marker.marker import Marker
from nesting.marker.measure import with_bought
from pieces.finding import Finding


def judged(marker: Marker, asked: Asked) -> tuple[Finding, ...]:
    """Return the findings of the check, and doubts about the cut list, as warnings after them."""
    return (*check_marker(with_bought(marker), asked), *hand_doubts(marker.items))
