"""The shopping list of a small bag, every length and price worked out by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest

from nesting.answers.shopping.shopping import ClothChoice, cloths_needed, shop
from nesting.errors import DoesNotFitError, LayError, ReckoningError, ShoppingError
from nesting.lay import LayProgress
from nesting.marker.cut_list import Selection
from pieces.errors import UnknownNameError
from pieces.pattern import Notion
from pieces.wearer import ChildWearer
from tests.nesting.small_shop import asked, bag, metric_bolt


def test_every_cloth_of_the_view_is_laid_on_its_own_bolt() -> None:
    """Shell: two boxes 400 wide side by side on 1,000 take their height of 500.

    Lining: on 500 they lie one after another and take 1,000.
    """
    shopping = shop(asked())

    assert [line.need.name for line in shopping.cloths] == ["shell", "lining"]
    assert [line.result.shop_length_mm for line in shopping.cloths] == [500.0, 1000.0]
    assert all(line.result.findings == () for line in shopping.cloths)


def test_prices_are_rounded_for_each_cloth_and_add_up() -> None:
    """0.5 m at 12.35 is 6.175, so 6.18 at the till; 1 m at 8 is 8.00; together 14.18."""
    shopping = shop(asked())

    assert [line.cost for line in shopping.cloths] == [Decimal("6.18"), Decimal("8.00")]
    assert shopping.totals == {"€": Decimal("14.18")}
    assert shopping.unpriced == ()


def test_currencies_are_not_mixed_and_cloths_without_price_are_named() -> None:
    """Pounds and euros have totals of their own."""
    two = shop(asked(lining=ClothChoice(metric_bolt(500, "£2/m"))))
    none = shop(asked(lining=ClothChoice(metric_bolt(500))))

    assert two.totals == {"€": Decimal("6.18"), "£": Decimal("2.00")}
    assert none.totals == {"€": Decimal("6.18")}
    assert none.unpriced == ("lining",)


def test_a_cloth_the_view_does_not_use_is_not_bought() -> None:
    """View A is unlined: its lining bolt is left out, and would not have been missed."""
    request = asked(Selection("A", "M"))
    alone = replace(request, choices={"shell": request.choices["shell"]})

    assert [line.need.name for line in shop(request).cloths] == ["shell"]
    assert [line.need.name for line in shop(alone).cloths] == ["shell"]


def test_notions_of_several_garments_add_up() -> None:
    """2 x A and B: 3 buttons each are 9, one cord of 1.2 m for B alone."""
    shopping = shop(asked(Selection("A", "M", 2), Selection("B", "M")))
    button, cord, thread = shopping.notions

    assert (button.count, button.length_mm) == (9, None)
    assert (cord.count, cord.length_mm) == (None, 1200.0)
    assert [line.is_estimate for line in shopping.notions] == [False, False, True]
    # seams: A 1,800 twice and B 3,600 are 7,200; each takes 2.5 and its two edges 5.5, which is
    # 97,200; 15 % more is 111,780: two reels of 100 m
    assert thread.length_mm == pytest.approx(111_780)
    assert [line.reels for line in shopping.notions] == [None, None, 2]


def test_thread_follows_its_settings() -> None:
    """B has 3,600 of seam; at 4 to 1, with raw edges and without waste, that is 14,400."""
    request = replace(asked(), thread_ratio=4.0, neaten_ratio=0.0, thread_waste=0.0)

    assert shop(request).notions[-1].length_mm == pytest.approx(14_400)


def test_thread_that_the_sheet_forgot_is_added_and_a_length_it_gives_is_kept() -> None:
    """Without a thread in the sheet there is one; 80 m in the sheet stay 80 m."""
    without = replace(bag(), notions=())
    given = replace(bag(), notions=(replace(bag().notions[-1], lengths_mm={"M": 80_000.0}),))

    (added,) = shop(asked(sheet=without)).notions
    (kept,) = shop(asked(sheet=given)).notions

    assert (added.notion.name, added.is_estimate) == ("thread", True)
    assert added.length_mm == pytest.approx(3600 * 13.5 * 1.15)
    assert (kept.length_mm, kept.is_estimate) == (80_000.0, False)


def test_reels_are_counted_and_their_thread_is_estimated_as_well() -> None:
    """A sheet that says two reels still learns how much thread must be on them."""
    reels = replace(bag().notions[-1], counts={"M": 2})

    (line,) = shop(asked(sheet=replace(bag(), notions=(reels,)))).notions

    assert line.count == 2
    assert line.is_estimate
    assert line.length_mm == pytest.approx(55_890)


def test_two_notions_of_one_name_stay_apart() -> None:
    """Hooks for the strap and hooks for the flap are two lines."""
    hook = Notion(name="hook", counts={"M": 1})
    other = Notion(name="hook", counts={"M": 4})

    lines = shop(asked(sheet=replace(bag(), notions=(hook, other)))).notions

    assert [line.count for line in lines[:2]] == [1, 4]


def test_whether_the_bolt_is_among_the_suggested() -> None:
    """Canvas is, in any case of letters; silk cannot be, since no lining is suggested."""
    shell, lining = shop(asked()).cloths
    loud = shop(asked(shell=ClothChoice(metric_bolt(1000), kind="CANVAS"))).cloths[0]
    other = shop(asked(shell=ClothChoice(metric_bolt(1000), kind="silk"))).cloths[0]

    assert [shell.is_suggested, loud.is_suggested, other.is_suggested] == [True, True, False]
    assert lining.is_suggested is None


def test_cautions_of_the_sheet_come_first_then_those_for_children() -> None:
    """A bag for children with a cord hears of cords once, however many views are sewn."""
    sheet = replace(bag(), child=ChildWearer(4, 6))
    cautions = shop(asked(Selection("A", "M"), Selection("B", "M"), sheet=sheet)).cautions

    assert cautions[0] == "Pins are sharp."
    assert len(cautions) == len(set(cautions))
    assert any("EN 14682" in caution for caution in cautions)
    assert shop(asked()).cautions == ("Pins are sharp.",)


def test_progress_tells_which_cloth_is_laid() -> None:
    """The callback hears of cloth 0, then of cloth 1."""
    heard: list[int] = []

    def told(number: int, report: LayProgress) -> bool:
        heard.append(number)
        return report.share < 0.0

    shop(asked(), progress=told)

    assert sorted(set(heard)) == [0, 1]
    assert heard == sorted(heard)


def test_a_missing_bolt_is_named_with_all_that_are_needed() -> None:
    """Before anything is laid."""
    request = replace(asked(), choices={})

    with pytest.raises(
        ShoppingError, match="no bolt for shell and lining; these garments take shell, lining"
    ):
        shop(request)


def test_a_bolt_for_no_cloth_of_the_pattern_is_refused() -> None:
    """The refusal lists the cloths there are."""
    request = asked()
    request = replace(request, choices={**request.choices, "fur": request.choices["shell"]})

    with pytest.raises(ShoppingError, match=r'no cloth "fur" in "Bag .*its cloths are shell, lin'):
        cloths_needed(request)


def test_what_does_not_fit_names_its_cloth() -> None:
    """A lining 30 cm wide: the reader must know which bolt to change."""
    with pytest.raises(DoesNotFitError, match='lining: piece "Inside", size M, needs 40 cm'):
        shop(asked(lining=ClothChoice(metric_bolt(300))))


def test_choices_that_cannot_be_are_refused() -> None:
    """No garment, an unknown size or view, and thread settings out of range."""
    with pytest.raises(LayError, match="nothing to sew is chosen"):
        shop(replace(asked(), selections=()))
    with pytest.raises(UnknownNameError, match='no size "XL"'):
        shop(asked(Selection("A", "XL")))
    with pytest.raises(UnknownNameError, match='no view "C"'):
        shop(asked(Selection("C", "M")))
    with pytest.raises(ReckoningError, match="thread over seam is 0"):
        replace(asked(), thread_ratio=0.0)
