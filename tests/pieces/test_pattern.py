"""A pattern checks that every name it uses is one it declares."""

from typing import Any

import pytest

from pieces.errors import PatternError, UnknownNameError
from pieces.pattern import ClothNeed, Notion, NotionKind, Pattern, View
from pieces.piece import Cut, Piece
from tests.gallery import half_back


def piece(name: str, *cloths: str) -> Piece:
    """Return a half back under another name, cut once from each cloth."""
    cuts = tuple(Cut(cloth, 1) for cloth in cloths)
    return Piece(name=name, title=name, cuts=cuts, shapes={"M": half_back()})


def pattern_with(**fields: Any) -> Pattern:
    """Return a pattern of two pieces, two cloths and two views, with something changed."""
    given: dict[str, Any] = {
        "name": "Waistcoat",
        "sizes": ("M",),
        "pieces": (piece("back", "shell", "lining"), piece("front", "shell")),
        "views": (View("A", ("front", "back")), View("B", ("back",))),
        "cloths": (ClothNeed("shell"), ClothNeed("lining")),
    }
    return Pattern(**{**given, **fields})


def test_things_are_found_by_name() -> None:
    """Pieces, views, cloths and sizes are picked by name."""
    pattern = pattern_with()

    assert pattern.piece("front").name == "front"
    assert pattern.view("B") == View("B", ("back",))
    assert pattern.cloth("lining") == ClothNeed("lining")
    assert pattern.size("M") == "M"


def test_pieces_for_a_view_and_a_cloth_come_in_the_order_of_the_view() -> None:
    """View A takes front and back from the shell, and only the back from the lining."""
    pattern = pattern_with()

    assert [p.name for p in pattern.pieces_for("A", "shell")] == ["front", "back"]
    assert [p.name for p in pattern.pieces_for("A", "lining")] == ["back"]


def test_a_view_has_its_own_cloths_and_notions() -> None:
    """View B is the back, of both cloths; with the front alone no lining is needed."""
    notions = (
        Notion(name="hook", counts={"M": 1}),
        Notion(name="buckle", counts={"M": 1}, views=("A",)),
        Notion(name="thread", kind=NotionKind.THREAD),
    )
    views = (View("A", ("front",)), View("B", ("back",)))
    pattern = pattern_with(views=views, notions=notions)

    assert [cloth.name for cloth in pattern.cloths_for("A")] == ["shell"]
    assert [cloth.name for cloth in pattern.cloths_for("B")] == ["shell", "lining"]
    assert [one.name for one in pattern.notions_for("A")] == ["hook", "buckle", "thread"]
    assert [one.name for one in pattern.notions_for("B")] == ["hook", "thread"]
    with pytest.raises(UnknownNameError, match='no view "C"'):
        pattern.notions_for("C")


@pytest.mark.parametrize(
    ("ask", "sentence"),
    [
        (lambda p: p.piece("sleeve"), 'no piece "sleeve" in this pattern; it has "back", "front"'),
        (lambda p: p.view("C"), 'no view "C" in this pattern; it has "A", "B"'),
        (lambda p: p.cloth("fur"), 'no cloth "fur"'),
        (lambda p: p.size("XL"), 'no size "XL"'),
        (lambda p: p.pieces_for("A", "fur"), 'no cloth "fur"'),
        (lambda p: p.pieces_for("C", "shell"), 'no view "C"'),
    ],
)
def test_an_unknown_name_is_told_with_the_known_ones(ask: Any, sentence: str) -> None:
    """Whoever asks for a wrong name is shown the right ones."""
    with pytest.raises(UnknownNameError, match=sentence):
        ask(pattern_with())


def test_the_known_names_are_told_in_the_order_of_the_pattern() -> None:
    """Sizes run from small to large, not from L to XS: no order but the pattern's own."""
    with pytest.raises(UnknownNameError, match='it has "long", "A"'):
        pattern_with(views=(View("long", ("back",)), View("A", ("back", "front")))).view("C")


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"sizes": ()}, "has no size"),
        ({"sizes": ("M", "M")}, 'size "M" stands twice'),
        ({"sizes": ("M", "L")}, 'piece "back" has no size "L"'),
        ({"sizes": ("L",)}, 'piece "back" has no size "L"'),
        ({"pieces": ()}, "has no piece"),
        ({"views": ()}, "has no view"),
        ({"cloths": ()}, "has no cloth"),
        ({"cloths": (ClothNeed("shell"),)}, 'is cut from "lining"'),
        ({"views": (View("A", ("sleeve",)),)}, 'view "A" uses "sleeve"'),
        ({"views": (View("A", ("back", "back")),)}, 'view "A" names "back" twice'),
        ({"views": (View("A", ()),)}, 'view "A" names no piece'),
        ({"notions": (Notion(name="hook", counts={"S": 1}),)}, 'notion "hook" has no size "M"'),
        (
            {"notions": (Notion(name="hook", counts={"M": 1}, views=("C",)),)},
            'notion "hook" is for view "C"',
        ),
    ],
)
def test_a_pattern_that_contradicts_itself_is_refused(
    fields: dict[str, Any], sentence: str
) -> None:
    """The refusal names what does not agree."""
    with pytest.raises(PatternError, match=sentence):
        pattern_with(**fields)


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({}, "either a count or a length"),
        ({"counts": {"M": 1}, "lengths_mm": {"M": 1.0}}, "either a count or a length"),
        ({"counts": {"M": 0}}, "not above zero"),
        ({"lengths_mm": {"M": float("nan")}}, "not above zero"),
        ({"counts": {"M": 1}, "size_mm": 0.0}, "size 0.0 mm is not a number above zero"),
        (
            {"counts": {"M": 1}, "lengths_mm": {"M": 1.0}, "kind": NotionKind.THREAD},
            "either a count or a length",
        ),
    ],
)
def test_a_notion_that_cannot_be_bought_is_refused(fields: dict[str, Any], sentence: str) -> None:
    """A notion is bought by number or by length, and some of it; its size is above zero."""
    with pytest.raises(PatternError, match=f'notion "hook".*{sentence}'):
        Notion(name="hook", **fields)
