"""Sharing pieces out over lengths of cloth: each share a lay that fits, nothing lost or doubled."""

from collections import Counter
from dataclasses import replace

import pytest

from nesting.answers.fits.allocation import Sharing, share_out
from nesting.answers.fits.sharer import Sharer, items_of, units_of
from nesting.cloth.bolt import Bolt
from nesting.cloth.repeat import Repeat
from nesting.cloth.spread import Spread
from nesting.errors import LayError, LayStoppedError
from nesting.marker.cut_list import cut_list
from tests.small_patterns import TRIANGLE, box, piece, request, shape

# Three panels of 100 x 100 and two strips of 40 x 100, arrows along the cloth.
PIECES = (piece("panel", box(100, 100), count=3), piece("strip", box(40, 100), count=2))


def owned(length_mm: float, width_mm: float = 100.0) -> Bolt:
    """Return a length of cloth."""
    return Bolt(width_mm=width_mm, length_left_mm=length_mm, shop_step_mm=None)


def shared(*bolts: Bolt, only_whole: bool = False) -> Sharing:
    """Return the pieces shared out over these cloths."""
    return share_out(Sharer(request(*PIECES, width_mm=100.0), bolts), only_whole=only_whole)


def cut(sharing: Sharing) -> Counter[str]:
    """Return how many of each piece are cut or left over."""
    counts: Counter[str] = Counter()
    for share in sharing.shares:
        if share.result is not None:
            counts.update({item.key: item.count for item in share.result.marker.items})
    counts.update({item.key: item.count for item in sharing.left_over})
    return counts


def test_all_of_it_on_one_length() -> None:
    """On 100 mm: three panels one after another, and the strips side by side: 400 mm.

    Of 450 mm, 50 are left.
    """
    sharing = shared(owned(450.0))

    assert sharing.fits
    assert sharing.shares[0].spare_mm == pytest.approx(50.0)
    assert sharing.lacking_mm == 0.0


def test_what_is_missing_and_what_fits() -> None:
    """Of 350 mm, 50 are missing; largest first, three panels fit and the strips are left."""
    sharing = shared(owned(350.0))

    assert not sharing.fits
    assert sharing.lacking_mm == pytest.approx(50.0)
    assert {item.key: item.count for item in sharing.left_over} == {"strip M": 2}
    assert sharing.shares[0].spare_mm == pytest.approx(50.0)


def test_a_smaller_piece_takes_room_that_a_larger_cannot() -> None:
    """On 140 x 100 mm: one panel with a strip beside it; two panels and a strip are left."""
    sharing = shared(owned(100.0, width_mm=140.0))

    assert {item.key: item.count for item in sharing.left_over} == {"panel M": 2, "strip M": 1}


def test_the_smallest_length_that_takes_all_is_used() -> None:
    """The larger one stays whole."""
    small, large = owned(400.0), owned(900.0)

    sharing = shared(large, small)

    assert [share.result is None for share in sharing.shares] == [True, False]


def test_shared_out_over_two_lengths() -> None:
    """Panels need 300 mm, the strips 100: 200 and 200 hold them, neither alone."""
    sharing = shared(owned(200.0), owned(200.0))

    assert sharing.fits
    assert cut(sharing) == {"panel M": 3, "strip M": 2}
    for share in sharing.shares:
        assert share.result is not None
        assert share.result.findings == ()
        assert share.result.cut_length_mm <= 200.0
        assert share.result.marker.bolt == share.bolt


def test_nothing_is_lost_or_doubled() -> None:
    """Whatever is cut and whatever is left over make the cut list."""
    for lengths in ((90.0,), (100.0, 100.0), (250.0, 50.0), (150.0, 120.0, 100.0)):
        assert cut(shared(*map(owned, lengths))) == {"panel M": 3, "strip M": 2}


def test_two_lengths_that_lack_one_panel() -> None:
    """Of 200 and 100 mm: 300 hold three panels; the strips want another 100 mm."""
    sharing = shared(owned(200.0), owned(100.0))

    assert {item.key: item.count for item in sharing.left_over} == {"strip M": 2}
    assert sharing.lacking_mm == pytest.approx(100.0)


def test_pieces_are_exchanged_where_first_fit_is_caught() -> None:
    """Strips 100 wide and 44, 40, 34, 30, 30 and 22 long, on two cloths 100 long.

    The largest first: 44 and 40 on one, 34, 30 and 30 on the other, and 22 finds no room. With 40
    and 34 exchanged, 44 + 34 + 22 and 40 + 30 + 30 fill both to the last millimetre.
    """
    lengths = {"a": 44, "b": 40, "c": 34, "d": 30, "e": 30, "f": 22}
    pieces = tuple(
        piece(name, shape([(0, 0), (100, 0), (100, high), (0, high)], arrow=((5, 5), (5, 15))))
        for name, high in lengths.items()
    )

    sharing = share_out(
        Sharer(request(*pieces, width_mm=100.0), (owned(100.0), owned(100.0))),
    )

    cut_on = [
        {item.key[0] for item in share.result.marker.items}
        for share in sharing.shares
        if share.result is not None
    ]
    assert sharing.fits
    assert {"a", "c", "f"} in cut_on


def test_a_piece_moves_on_to_let_a_wide_one_in() -> None:
    """Cloths of 90 x 100 and 60 x 100: the wide piece lies on the first alone, the long on both."""
    pieces = (piece("long", box(60, 100)), piece("wide", box(90, 50)))
    bolts = (owned(100.0, width_mm=90.0), owned(100.0, width_mm=60.0))

    assert share_out(Sharer(request(*pieces, width_mm=90.0), bolts)).fits


def test_a_piece_too_wide_for_all() -> None:
    """Nobody can say how much is missing then."""
    sharing = shared(owned(900.0, width_mm=90.0))

    assert sharing.lacking_mm is None
    assert {item.key for item in sharing.left_over} == {"panel M"}


def test_only_whole_asks_nothing_else() -> None:
    """Nothing is laid if all of it is not."""
    sharing = shared(owned(350.0), only_whole=True)

    assert sharing.shares[0].result is None
    assert sharing.lacking_mm == pytest.approx(50.0)


def test_the_end_allowance_and_washing_count() -> None:
    """400 mm of marker and 20 at the end, on cloth that loses a fifth: 525 mm."""
    bolt = replace(owned(520.0), end_allowance_mm=20.0, shrink_along=0.2)

    assert shared(bolt).lacking_mm == pytest.approx(5.0)
    assert shared(replace(bolt, length_left_mm=525.0)).fits


def test_units_of_an_open_lay_are_single_pieces() -> None:
    """A pair is two units there, and one on a fold; a half piece is one whole piece on both."""
    pieces = (
        piece("front", TRIANGLE, count=4, pair=True),
        piece("back", box(30, 90, on_fold=True)),
    )
    asked = request(*pieces, width_mm=300.0)
    items = cut_list(asked.pattern, asked.selections, asked.cloth)

    opened = units_of(items, asked.bolt, asked.rules)
    folded = units_of(items, asked.bolt, replace(asked.rules, spread=Spread.LENGTHWISE))

    front = [(u.as_drawn, u.turned_over) for u in opened if u.key == "front M"]
    assert sorted(front) == [(0, 1), (0, 1), (1, 0), (1, 0)]
    assert [(u.as_drawn, u.turned_over) for u in folded if u.key == "front M"] == [(1, 1)] * 2
    assert items_of(opened, items) == items_of(folded, items) == items


def test_on_a_repeat_the_pieces_of_a_garment_stay_together() -> None:
    """A unit for each garment, since its copies have to match each other."""
    asked = request(piece("front", TRIANGLE, count=2, pair=True), width_mm=300.0)
    selections = (replace(asked.selections[0], garments=3),)
    items = cut_list(asked.pattern, selections, "shell")
    bolt = replace(asked.bolt, repeat=Repeat(along_mm=50.0))

    units = units_of(items, bolt, asked.rules)

    assert [(u.garment, u.as_drawn, u.turned_over) for u in units] == [
        (1, 1, 1),
        (2, 1, 1),
        (3, 1, 1),
    ]
    (some,) = items_of(units[1:], items)
    assert (some.garments, some.count) == ((2, 3), 4)
    assert items_of(units, items) == items


def test_cloth_without_its_length_is_refused() -> None:
    """Nobody owns cloth without end."""
    for bolts in ((), (Bolt(width_mm=100.0),)):
        with pytest.raises(LayError, match="length and width"):
            Sharer(request(*PIECES, width_mm=100.0), bolts)


def test_stopping_is_obeyed() -> None:
    """Asked to stop at the first lay, it says so."""
    sharer = Sharer(request(*PIECES, width_mm=100.0), (owned(450.0),), progress=lambda _tried: True)

    with pytest.raises(LayStoppedError):
        share_out(sharer)
