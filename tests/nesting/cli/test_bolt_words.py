"""What stands after --bolt and --also, as a person writes it."""

import pytest

from nesting.answers.shopping.shopping import ClothChoice
from nesting.cli.bolt_words import read_also, read_bolts
from nesting.cli.options import OptionError
from nesting.cloth.repeat import Repeat
from nesting.cloth.spread import Spread
from nesting.marker.cut_list import Selection
from pieces.measures.price import parse_price
from pieces.measures.units import UnitSystem

CLOTHS = ("shell", "shell two", "lining")


def one(text: str) -> ClothChoice:
    """Return the single bolt that a text tells of."""
    (choice,) = read_bolts([text], CLOTHS).values()
    return choice


def test_a_bolt_as_in_the_help() -> None:
    """Cloth, width, price and nap."""
    choice = one("shell 45in 12.50/yd nap")

    assert choice.bolt.width_mm == 1143.0
    assert choice.bolt.price == parse_price("12.50/yd")
    assert choice.bolt.nap
    assert choice.rules.spread is Spread.OPEN
    assert choice.bolt.shop_step_mm == 114.3
    assert choice.kind == ""


def test_the_width_alone_is_enough() -> None:
    """Plain cloth, open, without a price."""
    choice = one("lining 150cm")

    assert (choice.bolt.width_mm, choice.bolt.nap, choice.bolt.price) == (1500.0, False, None)
    assert (choice.bolt.units, choice.bolt.shop_step_mm) == (UnitSystem.METRIC, 100.0)


@pytest.mark.parametrize(
    ("text", "width_mm", "price"),
    [
        ("shell 45 in 12.50/yd", 1143.0, "12.50/yd"),
        ("shell 1 1/4 yd £ 12 per yard", 1143.0, "£12/yd"),
        ("shell 1,4 m 9,90€/m", 1400.0, "€9.90/m"),
        ('shell 45" nap €9/m', 1143.0, "€9/m"),
        ("shell fold 45in 2 / ft", 1143.0, "2/ft"),
    ],
)
def test_widths_and_prices_may_have_spaces(text: str, width_mm: float, price: str) -> None:
    """As people write them on a slip of paper."""
    bolt = one(text).bolt

    assert bolt.width_mm == pytest.approx(width_mm)
    assert bolt.price == parse_price(price)


def test_facts_and_the_kind_of_cloth() -> None:
    """Selvage, step, shrinkage, repeat and what is left; the kind stands behind of."""
    choice = one(
        "shell 45in fold selvage=0.5in step=exact shrink-along=3% shrink-across=20cm:19cm "
        "repeat-along=4in uneven end-allowance=1in length-left=5yd of wide corduroy"
    )
    bolt = choice.bolt

    assert choice.kind == "wide corduroy"
    assert choice.rules.spread is Spread.LENGTHWISE
    assert (bolt.selvage_mm, bolt.shop_step_mm, bolt.end_allowance_mm) == (12.7, None, 25.4)
    assert (bolt.shrink_along, bolt.shrink_across) == (0.03, 0.05)
    assert bolt.repeat == Repeat(along_mm=101.6, across_mm=None, even=False)
    assert bolt.length_left_mm == 4572.0


def test_facts_behind_the_kind_are_facts_and_other_words_belong_to_it() -> None:
    """Nap behind of is a word of the cloth's name."""
    choice = one("shell 45in of long nap velvet selvage=1cm")

    assert (choice.kind, choice.bolt.selvage_mm) == ("long nap velvet", 10.0)
    assert not choice.bolt.nap


def test_the_longest_name_of_a_cloth_is_taken() -> None:
    """A name may have a space."""
    choices = read_bolts(["shell two 45in", "shell 60in"], CLOTHS)

    assert {name: choice.bolt.width_mm for name, choice in choices.items()} == {
        "shell two": 1143.0,
        "shell": 1524.0,
    }


def test_the_first_width_sets_the_units_of_all() -> None:
    """Nobody wants half of a list in metres."""
    choices = read_bolts(["shell 45in", "lining 150cm"], CLOTHS)

    assert choices["lining"].bolt.units is UnitSystem.IMPERIAL
    assert choices["lining"].bolt.shop_step_mm == 114.3


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        (["fur 45in"], 'no cloth "fur" in this pattern; its cloths are shell, shell two, lining'),
        ([""], 'no cloth ""'),
        (["45in shell"], 'no cloth "45in"'),
        (["shell"], "the width is missing; write it like"),
        (["shell nap"], "the width is missing"),
        (["shell 45"], '"45" has no unit; add'),
        (["shell wide"], 'cannot read the length "wide"'),
        (["shell 0in"], 'length "0in" is zero'),
        (["shell 45in 12.50"], 'cannot read the price "12.50"'),
        (["shell 45in 12.50/ell"], 'unknown unit "ell"'),
        (["shell 45in -3/yd"], 'cannot read the price "-3/yd"'),
        (["shell 45in velvety"], "behind the width stand a price, nap, fold"),
        (["shell 45in 60in"], 'cannot read the price "60in"'),
        (["shell 45in nap nap"], '"nap" stands twice'),
        (["shell 45in of"], 'nothing stands behind "of"'),
        (["shell 45in colour=red"], '"colour=" is not known; the facts are selvage, step'),
        (["shell 45in selvage=1cm selvage=2cm"], '"selvage=" stands twice'),
        (["shell 45in selvage=1"], '"1" has no unit'),
        (["shell 45in selvage=30in"], "leave nothing of 45 in"),
        (["shell 45in shrink-along=x"], '"x" is no shrinkage'),
        (["shell 45in uneven"], "uneven: it is said of a repeat"),
        (["shell 45in", "shell 60in"], 'cloth "shell" has two bolts'),
    ],
)
def test_a_bolt_that_cannot_be_is_refused(typed: list[str], sentence: str) -> None:
    """One sentence that begins with the option."""
    with pytest.raises(OptionError) as refusal:
        read_bolts(typed, CLOTHS)

    assert str(refusal.value).startswith("--bolt")
    assert sentence in str(refusal.value)


def test_more_garments_are_a_view_a_size_and_perhaps_a_number() -> None:
    """One if no number is said."""
    assert read_also("B L") == Selection("B", "L", 1)
    assert read_also("B L 12") == Selection("B", "L", 12)


@pytest.mark.parametrize("text", ["B", "", "B L 0", "B L 101", "B L two", "B L ²", "B L 2 2"])
def test_garments_that_cannot_be_read_are_refused(text: str) -> None:
    """The refusal begins with the option."""
    with pytest.raises(OptionError, match=r"^--also"):
        read_also(text)


@pytest.mark.parametrize("word", ["crosswise", "turned", "double", "best"])
def test_a_bolt_may_be_spread_every_way(word: str) -> None:
    """The word of the way stands beside the others."""
    (choice,) = read_bolts([f"shell 45in {word} 2/ft"], ["shell"]).values()

    assert choice.rules.spread == word


def test_two_ways_to_spread_contradict_each_other() -> None:
    """The message names both."""
    with pytest.raises(OptionError, match='"fold" and "double" are two ways'):
        read_bolts(["shell 45in fold double"], ["shell"])
