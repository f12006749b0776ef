"""The shop's bolts: read from a list, and ranked by what the garment costs."""

from dataclasses import replace
from pathlib import Path

import pytest

from nesting.answers.bolt_ranking import ranked_bolts, ranked_row, ranking_sentences
from nesting.answers.compare import compare_bolts
from nesting.cloth.bolt import Bolt
from nesting.cloth.bolt_list_file import ListedBolt, parse_bolt_list, read_bolt_list
from nesting.cloth.flaw import Flaw
from nesting.cloth.repeat import Repeat
from nesting.errors import BoltListError
from pieces.measures.price import parse_price
from pieces.measures.units import UnitSystem
from tests.small_patterns import TRIANGLE, piece, request

SHELF = """
[[bolts]]
name = "brown corduroy"
width = "45in"
nap = true
price = "14/yd"
length_left = "3yd"
selvage = "1/2in"

[[bolts]]
name = "striped linen"
width = "140cm"
price = "9/m"
repeat_along = "4in"
uneven = true
flaws = ["20in,12in,1in,2in"]
shrink_along = "3%"
shrink_across = "20cm to 19.6cm"
end_allowance = "1in"
step = "exact"
"""


def test_a_list_is_read_bolt_by_bolt() -> None:
    """Lengths as typed; the first width decides units and the step of the shop."""
    corduroy, linen = parse_bolt_list(SHELF)

    assert corduroy == ListedBolt(
        "brown corduroy",
        Bolt(
            width_mm=1143.0,
            selvage_mm=12.7,
            nap=True,
            price=parse_price("14/yd"),
            length_left_mm=3 * 914.4,
        ),
    )
    bolt = linen.bolt
    assert (bolt.width_mm, bolt.units, bolt.shop_step_mm) == (1400.0, UnitSystem.IMPERIAL, None)
    assert bolt.repeat == Repeat(along_mm=101.6, even=False)
    assert bolt.flaws == (Flaw(at_mm=508.0, across_mm=304.8, long_mm=25.4, wide_mm=50.8),)
    assert (bolt.shrink_along, bolt.shrink_across) == pytest.approx((0.03, 0.02))
    assert bolt.end_allowance_mm == 25.4


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("[[bolts]]", "[[bolts", "is not valid TOML"),
        (SHELF, "", 'key "bolts" is missing'),
        (SHELF, "bolts = []", "bolts must have at least 1, not []"),
        ('width = "45in"\n', "", 'bolts 1: key "width" is missing'),
        ('width = "45in"', "width = 45", "bolts 1, width must be text in quotes, not 45"),
        ('width = "45in"', 'width = "45"', 'bolt "brown corduroy", width: '),
        ('price = "9/m"', 'price = "9"', 'bolt "striped linen", price: '),
        ('price = "9/m"', 'price = "€ 9/m"', "several currencies"),
        ("uneven = true", "colour = 3", 'bolts 2: unknown key "colour"; the keys here are name'),
        ('repeat_along = "4in"\n', "", "uneven: it is said of a repeat"),
        ('name = "striped linen"', 'name = "brown corduroy"', "two bolts are called"),
        ('selvage = "1/2in"', 'selvage = "30in"', 'bolt "brown corduroy": '),
        ('shrink_along = "3%"', 'shrink_along = "-3%"', "out of range"),
        ("20in,12in,1in,2in", "20in,12in,1in", 'bolt "striped linen", flaws: '),
    ],
)
def test_a_list_that_cannot_be_used_is_refused(old: str, new: str, words: str) -> None:
    """The sentence names the bolt and the value."""
    assert old in SHELF

    with pytest.raises(BoltListError) as caught:
        parse_bolt_list(SHELF.replace(old, new, 1))

    assert words in str(caught.value)


def test_the_file_is_named(tmp_path: Path) -> None:
    """One that is missing, that is no text, and that has a fault."""
    with pytest.raises(BoltListError, match=r"none\.toml does not exist"):
        read_bolt_list(tmp_path / "none.toml")
    (tmp_path / "odd.toml").write_bytes(b"\xff\xfe")
    with pytest.raises(BoltListError, match=r"odd\.toml, line 1: it is not text in UTF-8"):
        read_bolt_list(tmp_path / "odd.toml")
    (tmp_path / "bad.toml").write_text("bolts = 3", encoding="utf-8")
    with pytest.raises(BoltListError, match=r"bad\.toml: bolts must be a list"):
        read_bolt_list(tmp_path / "bad.toml")


def test_bolts_are_ranked_by_cost_and_those_that_will_not_do_come_last() -> None:
    """Two triangles 60 x 100, cut to the millimetre.

    60 mm plain: 100 mm at 10 for a metre, 1.00. 60 mm with nap: 200 mm at 4 for a metre, 0.80.
    120 mm with nap: 100 mm without a price. 60 mm plain with 90 mm left: 10 mm too little. 50 mm:
    too narrow.
    """
    plain = Bolt(width_mm=60.0, shop_step_mm=None)
    shelf = {
        "plain": replace(plain, price=parse_price("10/m")),
        "narrow": replace(plain, width_mm=50.0, price=parse_price("1/m")),
        "short": replace(plain, length_left_mm=90.0, price=parse_price("1/m")),
        "unpriced": replace(plain, width_mm=120.0, nap=True),
        "napped": replace(plain, nap=True, price=parse_price("4/m")),
    }
    asked = request(piece("front", TRIANGLE, count=2), width_mm=60.0)
    listed = [ListedBolt(name, bolt) for name, bolt in shelf.items()]
    rows = compare_bolts(tuple(replace(asked, bolt=one.bolt) for one in listed))

    ranked = ranked_bolts(listed, rows)

    assert [one.name for one in ranked] == ["napped", "plain", "unpriced", "short", "narrow"]
    assert [one.will_do for one in ranked] == [True, True, True, False, False]
    assert ranked[3].lacking_mm == pytest.approx(10.0, abs=0.01)
    assert ranking_sentences(ranked)[0].startswith("Take 7.88 in (20 cm) of napped for 0.80.")
    assert ranking_sentences(ranked)[1] == "The next, plain, costs 0.20 more."
    row = ranked_row(1, ranked[0])
    assert (row["rank"], row["name"], row["will_do"], row["cost"]) == (1, "napped", True, 0.8)
    assert ranking_sentences(ranked[3:]) == ("None of these bolts will do.",)
