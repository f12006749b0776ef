"""Orders: one marker for all that can be cut, every piece somebody's, never more than alone."""

from collections import Counter
from dataclasses import replace

import pytest

from nesting.answers.order.order import (
    OrderLine,
    OrderRequest,
    OrderResult,
    Received,
    lay_order,
    owners,
)
from nesting.answers.order.order_tables import order_csv, order_row, pieces_words, saving_words
from nesting.checks import check_marker
from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import Spread
from nesting.errors import DoesNotFitError, OrderError
from nesting.lay import lay_pieces
from nesting.marker.cut_list import cut_list
from nesting.marker.placement import pieces_cut
from pieces.measures.price import parse_price
from pieces.measures.units import UnitSystem
from pieces.pattern import ClothNeed, Pattern, View
from tests.nesting.small_charts import two_by_two
from tests.small_patterns import QUICK, box, piece

CLASS = (
    OrderLine("A", "M", 1, "Ida"),
    OrderLine("B", "L", 2, "Jo"),
    OrderLine("A", "L", 1, "a name far too long for a piece"),
    OrderLine("A", "M", 2),
)


def order(
    lines: tuple[OrderLine, ...] = CLASS,
    *,
    spread: Spread = Spread.OPEN,
    pattern: Pattern | None = None,
    width_mm: float = 200.0,
) -> OrderRequest:
    """Return a quick order on plain cloth, cut in steps of 10 cm."""
    bolt = Bolt(width_mm=width_mm, shop_step_mm=100.0, units=UnitSystem.METRIC)
    request = OrderRequest(
        pattern=pattern or two_by_two(), lines=lines, cloth="shell", bolt=bolt, search=QUICK
    )
    return replace(request, rules=replace(request.rules, spread=spread))


def received(made: OrderResult) -> list[Counter[str]]:
    """Return for each line how many of each title it gets."""
    counts: list[Counter[str]] = []
    for pieces in made.received:
        counts.append(Counter())
        for one in pieces:
            counts[-1][one.item.title] += one.count
    return counts


@pytest.mark.slow
@pytest.mark.parametrize("spread", list(Spread))
def test_everybody_gets_what_the_garment_takes(spread: Spread) -> None:
    """View A takes 4 fronts and a panel, B a panel; the marker with all names can be cut."""
    made = lay_order(order(spread=spread))

    assert received(made) == [
        {"Front": 4, "Panel": 1},
        {"Panel": 2},
        {"Front": 4, "Panel": 1},
        {"Front": 8, "Panel": 2},
    ]
    assert made.together.findings == ()
    assert check_marker(made.together.marker) == ()


def test_pieces_say_for_whom_they_are() -> None:
    """By name; by number where the name is missing or too long."""
    made = lay_order(order())

    assert made.request.labels == ("Ida", "Jo", "no. 3", "no. 4")
    assert {item.size for item in made.together.marker.items} == {
        "M for Ida",
        "L for Jo",
        "L for no. 3",
        "M for no. 4",
    }


def test_names_that_could_be_mistaken_become_numbers() -> None:
    """Two of one name, a name like a number, and one like two names."""
    lines = tuple(OrderLine("B", "M", 1, name) for name in ("Jo", "jo", "no. 1", "A + B", "Ed"))

    assert order(lines).labels == ("no. 1", "no. 2", "no. 3", "no. 4", "Ed")


def test_nothing_about_the_lay_changes_by_names() -> None:
    """The marker has the length that a lay of all garments has, and every piece its place."""
    request = order()
    made, plain = lay_order(request), lay_pieces(request.together)

    assert made.together.marker.length_mm <= plain.marker.length_mm
    assert len(made.together.marker.placements) == len(plain.marker.placements)


def test_a_garment_alone_is_a_lay_of_its_own_and_laid_once() -> None:
    """Three kinds of garment in four lines: three lays."""
    request = order()
    made = lay_order(request)

    assert list(made.alone) == [("A", "M"), ("B", "L"), ("A", "L")]
    single = replace(request.together, selections=(request.together.selections[1],))
    one = replace(single.selections[0], garments=1)
    assert made.alone["B", "L"].marker == lay_pieces(replace(single, selections=(one,))).marker


def test_what_is_saved_is_told() -> None:
    """Panels of 50 x 200 on 200 mm: four side by side take 200 mm, each alone as much.

    Four alone ask for 800 mm, together for 200: 600 less, at 10 for a metre 6.00.
    """
    request = order((OrderLine("B", "L", 4),))
    request = replace(request, bolt=replace(request.bolt, price=parse_price("10/m")))

    made = lay_order(request)

    assert (made.alone_shop_mm, made.saved_mm) == (800.0, 600.0)
    assert saving_words(made) == (
        "Each garment bought by itself asks for 80 cm (31.5 in) in all; together it is "
        "60 cm (23.62 in) less, and 6.00 less to pay."
    )
    one = lay_order(replace(request, lines=(OrderLine("B", "L"),)))
    assert "nothing is saved" in saving_words(one)


@pytest.mark.slow
@pytest.mark.parametrize("gap_mm", [0.0, 5.0])
def test_together_is_never_longer_than_one_after_another(
    monkeypatch: pytest.MonkeyPatch, gap_mm: float
) -> None:
    """If the search of all garments did badly, those alone stand one after another instead.

    The search is made to do badly: its marker is pulled to five times its length. Six garments
    have five gaps between them.
    """

    def badly(request, *, progress=None):  # type: ignore[no-untyped-def]
        result = lay_pieces(request, progress=progress)
        if request.selections[0].garments == 1 and len(request.selections) == 1:
            return result
        marker = result.marker
        pulled = tuple(replace(one, x_mm=5.0 * one.x_mm) for one in marker.placements)
        longer = replace(marker, placements=pulled, length_mm=5.0 * marker.length_mm)
        return replace(result, marker=longer)

    monkeypatch.setattr("nesting.answers.order.order.lay_pieces", badly)

    request = order()
    made = lay_order(replace(request, rules=replace(request.rules, gap_mm=gap_mm)))

    alone_mm = 5 * gap_mm + sum(
        count * made.alone[garment].marker_length_mm
        for garment, count in made.request.garments.items()
    )
    assert made.together.marker_length_mm == pytest.approx(alone_mm)
    assert made.together.findings == ()
    assert received(made)[0] == {"Front": 4, "Panel": 1}


def test_a_fold_may_cut_for_two_at_once() -> None:
    """A symmetric piece wanted once by each of two: one cut through both layers serves both."""
    pattern = Pattern(
        name="Flags",
        sizes=("M",),
        pieces=(piece("flag", box(40, 100)),),
        views=(View("A", ("flag",)),),
        cloths=(ClothNeed("shell"),),
    )
    lines = (OrderLine("A", "M", 1, "Ida"), OrderLine("A", "M", 1, "Jo"))

    made = lay_order(order(lines, spread=Spread.LENGTHWISE, pattern=pattern, width_mm=100.0))

    (item,) = made.together.marker.items
    assert (item.size, item.count) == ("M for Ida + Jo", 2)
    assert made.received == ((Received(item, 1),), (Received(item, 1),))
    assert made.together.findings == ()


@pytest.mark.parametrize("spread", list(Spread))
def test_owners_cover_each_need_exactly(spread: Spread) -> None:
    """Counting what each placement cuts for its garments gives every garment its share."""
    request = order(spread=spread)
    marker = lay_pieces(request.together).marker

    given: Counter[tuple[str, int]] = Counter()
    for placement, garments in zip(marker.placements, owners(marker), strict=True):
        item = marker.item_by_key[placement.item]
        cut = pieces_cut(item, placement, marker.stretches[placement.stretch].spread)
        assert len(garments) == sum(cut)
        given.update((item.key, garment) for garment in garments)

    items = cut_list(request.pattern, request.together.selections, "shell")
    assert given == {
        (item.key, garment): item.share().count for item in items for garment in item.garments
    }


def test_what_the_marker_tells_of_garments_is_believed() -> None:
    """On a repeat each placement has the number of its garment, since garments match apart."""
    marker = lay_pieces(order().together).marker
    told = replace(marker, placements=tuple(replace(p, garment=6) for p in marker.placements))

    assert set(owners(told)) == {(6,)}


def test_a_view_that_cuts_nothing_from_the_cloth_gets_nothing() -> None:
    """A lining that only view A has: the participant with B is told so."""
    panel = piece("panel", box(40, 100))
    lining = replace(panel, name="lining", cuts=(replace(panel.cuts[0], cloth="lining"),))
    pattern = Pattern(
        name="Lined",
        sizes=("M",),
        pieces=(panel, lining),
        views=(View("A", ("panel", "lining")), View("B", ("panel",))),
        cloths=(ClothNeed("shell"), ClothNeed("lining")),
    )
    lines = (OrderLine("A", "M"), OrderLine("B", "M"))

    made = lay_order(replace(order(lines, pattern=pattern), cloth="lining"))

    assert [pieces_words(pieces) for pieces in made.received] == ["1 Panel", "nothing"]
    assert list(made.alone) == [("A", "M")]


def test_the_tables_tell_who_gets_what() -> None:
    """A line for each participant, with number, label and pieces."""
    made = lay_order(order())

    lines = order_csv(made).splitlines()
    row = order_row(made)

    assert lines[0] == "number,label,name,view,size,count,pieces"
    assert lines[1] == "1,Ida,Ida,A,M,1,4 Front; 1 Panel"
    assert lines[4] == "4,no. 4,,A,M,2,8 Front; 2 Panel"
    assert [one["label"] for one in row["participants"]] == ["Ida", "Jo", "no. 3", "no. 4"]
    assert [one["garments"] for one in row["alone"]] == [3, 2, 1]
    assert row["garments"] == 6


def test_a_formula_for_a_name_is_harmless() -> None:
    """A spreadsheet must not run what somebody is called."""
    made = lay_order(order((OrderLine("B", "M", 1, "=1+1"),)))

    assert ",'=1+1,B,M," in order_csv(made)


def test_what_cannot_be_is_refused() -> None:
    """Nobody, nothing, and a piece wider than the cloth."""
    with pytest.raises(OrderError, match="nobody is on the list"):
        lay_order(order(()))
    with pytest.raises(OrderError, match="ask for at least one"):
        OrderLine("A", "M", 0)
    with pytest.raises(DoesNotFitError, match="across the cloth"):
        lay_order(order(width_mm=30.0))
