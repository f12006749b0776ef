"""Cautions for clothing for children: by age, by kind of garment, and never a promise."""

from dataclasses import replace

import pytest

from demo.draft_patterns import SHEETS
from nesting.answers.shopping.cautions import LOCAL_RULES, child_cautions
from pieces.errors import UnknownNameError
from pieces.pattern import Notion, NotionKind
from pieces.sheet.pattern_file import read_pattern
from pieces.wearer import ChildWearer, GarmentKind
from tests.places import DEMO
from tests.small_patterns import box, pattern, piece


def told(
    youngest: int,
    oldest: int,
    garment: GarmentKind = GarmentKind.OTHER_CLOTHING,
    *,
    cord: bool = False,
) -> str:
    """Return all cautions for a garment of these ages as one text."""
    notions = (Notion(name="tie", counts={"M": 1}, kind=NotionKind.CORD),) if cord else ()
    plain = pattern(piece("front", box(100, 100)))
    child = ChildWearer(youngest, oldest, garment)
    return "\n".join(child_cautions(replace(plain, child=child, notions=notions), "A"))


def test_a_pattern_that_does_not_speak_of_children_has_none() -> None:
    """Adults, and sheets that say nothing."""
    assert child_cautions(pattern(piece("front", box(100, 100))), "A") == ()


@pytest.mark.parametrize("sheet", SHEETS)
def test_the_demo_sheets_are_for_adults(sheet: str) -> None:
    """No demo pattern claims to be for children."""
    demo = read_pattern(DEMO / sheet)

    assert child_cautions(demo, demo.views[0].name) == ()


def test_every_text_defers_to_local_rules_and_promises_nothing() -> None:
    """The last sentence says so, and no sentence says safe, compliant, legal or allowed."""
    for garment in GarmentKind:
        words = told(0, 16, garment, cord=True)
        assert words.endswith(LOCAL_RULES)
        rest = words.removesuffix(LOCAL_RULES).lower()
        assert not any(promise in rest for promise in ("safe", "compl", "legal", "allowed"))


def test_cords_at_hood_and_neck_by_age() -> None:
    """No cords at all to 7, none with free ends from 7 to 14; a range over 7 hears both."""
    young, old, both, above = told(2, 6), told(8, 12), told(5, 9), told(15, 17)

    assert "To age 7 (134 cm)" in young
    assert "From 7 to 14" not in young
    assert "To age 7 (134 cm)" not in old
    assert "From 7 to 14" in old
    assert "To age 7 (134 cm)" in both
    assert "From 7 to 14" in both
    assert "EN 14682" not in above
    assert "Cords can strangle" in above


def test_a_view_with_cord_is_told_so() -> None:
    """Only where the notions have a cord."""
    assert "This view asks for cord" in told(4, 8, cord=True)
    assert "This view asks for cord" not in told(4, 8)


def test_us_sizes_count_for_upper_outerwear_alone() -> None:
    """2T to 12 at hood and neck, 2T to 16 at waist and hem; neither for a shirt or a baby."""
    outer = GarmentKind.UPPER_OUTERWEAR

    assert "Sizes 2T to 12" in told(2, 12, outer)
    assert "Sizes 2T to 16" in told(2, 12, outer)
    assert "Sizes 2T to 12" not in told(13, 16, outer)
    assert "Sizes 2T to 16" in told(13, 16, outer)
    assert "Sizes 2T" not in told(2, 12)
    assert "Sizes 2T" not in told(0, 1, outer)


def test_sleepwear_names_its_sizes() -> None:
    """To 14 in the United States; above that only the plain caution remains."""
    assert "16 CFR 1615 to size 6X" in told(0, 6, GarmentKind.SLEEPWEAR)
    assert "16 CFR" not in told(15, 17, GarmentKind.SLEEPWEAR)
    assert "can catch fire" in told(15, 17, GarmentKind.SLEEPWEAR)
    assert "fire" not in told(0, 6)


def test_small_things_under_three() -> None:
    """A range that begins below 3 is cautioned, and no law is named for buttons."""
    assert "can choke" in told(2, 6)
    assert "can choke" not in told(3, 6)
    assert "1501" not in told(0, 2)


def test_what_is_not_clothing_hears_of_cords_only_if_it_has_one() -> None:
    """A bag with a cord: keep it short. A cushion: nothing but the closing sentence."""
    assert "keep them short" in told(3, 6, GarmentKind.NOT_CLOTHING, cord=True)
    assert told(3, 6, GarmentKind.NOT_CLOTHING) == LOCAL_RULES


def test_an_unknown_view_is_refused() -> None:
    """Even where there is nothing to caution about."""
    with pytest.raises(UnknownNameError, match='no view "Z"'):
        child_cautions(pattern(piece("front", box(100, 100))), "Z")
