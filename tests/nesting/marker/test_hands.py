"""Two rights and no left are laid as the sheet says, and asked about wherever they are told."""

from dataclasses import replace

import pytest

from nesting.draw.marker_scene import marker_scene
from nesting.lay import LayRequest, lay_pieces
from nesting.marker.cut_list import cut_list
from nesting.marker.hands import hand_doubts, same_hand
from pieces.finding import Severity
from pieces.piece import Piece
from tests.nesting.drawn import words
from tests.small_patterns import TRIANGLE, box, piece, request

RIGHTS = piece("front", TRIANGLE, count=2)


def asked(*pieces: Piece) -> LayRequest:
    """Return a request of these pieces on cloth wide enough."""
    return request(*pieces, width_mm=400.0)


@pytest.mark.parametrize(
    "harmless",
    [
        piece("front", TRIANGLE, count=2, pair=True),
        piece("front", TRIANGLE),
        piece("panel", box(35, 70), count=2),
        piece("back", box(35, 70, on_fold=True), count=2),
    ],
    ids=["a pair", "one", "its own mirror image", "opened out"],
)
def test_what_has_no_hand_or_both_is_not_asked_about(harmless: Piece) -> None:
    """Only two or more of the same hand are."""
    lay = asked(harmless)

    assert same_hand(cut_list(lay.pattern, lay.selections, lay.cloth)) == ()


def test_one_of_each_of_several_garments_is_no_pair() -> None:
    """Two garments of one right front each are what was asked for."""
    lay = asked(piece("front", TRIANGLE))
    two = (replace(lay.selections[0], garments=2),)

    assert same_hand(cut_list(lay.pattern, two, lay.cloth)) == ()


def test_two_rights_are_asked_about_in_the_answer_and_on_the_picture() -> None:
    """A warning, and words under the cloth."""
    result = lay_pieces(asked(RIGHTS))

    (finding,) = result.findings
    told = " ".join(words(marker_scene(result.marker).acts))

    assert (finding.code, finding.severity) == ("same-hand", Severity.WARNING)
    assert "Front M: 2 of the same hand; a pair?" in finding.sentence
    assert "Front M: 2 of the same hand; a pair?" in told
    assert hand_doubts(result.marker.items) == (finding,)
