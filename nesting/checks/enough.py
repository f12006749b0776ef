"""How much the judge looks at: a marker that was spoilt a thousand times over is told in a page.

A spoilt file of a few kilobytes may hold thousands of pieces on one spot, which are millions of
pairs. The judge names the first of them and says that it stopped, so that its work stays in
proportion to a marker that somebody could lay.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import islice

from nesting.checks.laid_pieces import error
from nesting.marker.marker import Marker
from pieces.finding import Finding

MOST_FINDINGS = 100
"""So many findings of one check are told."""
MOST_PAIRS = 200_000
"""So many neighbours are compared: a sound marker of 5000 pieces has fewer than 50,000."""
MOST_PLACEMENTS = 10_000
MOST_CORNERS = 3_000_000
"""A lay of 5000 pieces has a million corners if each piece has 200."""


def first_few(findings: Iterable[Finding]) -> Iterator[Finding]:
    """Yield the first of the findings of one check, and a last one that says there are more."""
    seen = iter(findings)
    told = list(islice(seen, MOST_FINDINGS))
    yield from told
    if next(seen, None) is not None:
        sentence = f"and more of this kind; the check stops after {MOST_FINDINGS} of them"
        yield replace(told[-1], sentence=sentence, pieces=())


def size_findings(marker: Marker) -> Iterator[Finding]:
    """Yield a finding if the marker is larger than any that can be judged: ``too-large``."""
    count = len(marker.placements)
    if count > MOST_PLACEMENTS:
        yield error(
            "too-large",
            f"{count:,} pieces are laid, and the check looks at no more than {MOST_PLACEMENTS:,}; "
            "lay fewer garments at a time",
        )
        return
    corners = {item.key: len(item.shape.outline_mm) for item in marker.items}
    total = sum(corners.get(placement.item, 0) for placement in marker.placements)
    if total > MOST_CORNERS:
        yield error(
            "too-large",
            f"the outlines laid have {total:,} corners, and the check looks at no more than "
            f"{MOST_CORNERS:,}; draw the pieces with fewer",
        )
