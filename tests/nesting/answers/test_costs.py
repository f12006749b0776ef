"""What each rule costs: every figure a lay, the shares add up, and freedom never costs."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.answers.costs import (
    Explanation,
    Rule,
    explain,
    freed_of,
    lays_to_explain,
    rules_of,
    unshrinking,
)
from nesting.answers.costs_tables import (
    RULE_NAMES,
    explain_bars,
    explain_row,
    explain_scene,
    explain_sentences,
    rule_of_thumb_sentences,
)
from nesting.checks import check_marker
from nesting.cloth.bolt import Bolt
from nesting.cloth.flaw import Flaw
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.repeat import Repeat
from nesting.cloth.spread import Spread
from nesting.draw.waterfall_scene import BarKind
from nesting.languages import words_of
from nesting.lay import LayProgress, LayRequest, lay_pieces
from pieces.measures.price import parse_price
from pieces.measures.units import UnitSystem
from pieces.piece import Piece
from tests.matched_patterns import boxed, matched_pattern
from tests.small_patterns import ONE, QUICK, TRIANGLE, box, piece, request


def explained(asked: LayRequest) -> Explanation:
    """Return what makes up a lay."""
    return explain(asked, lay_pieces(asked))


def on_bolt(bolt: Bolt, *pieces: Piece, rules: LayRules | None = None) -> LayRequest:
    """Return a quick request on a bolt."""
    asked = request(*pieces, width_mm=bolt.width_mm)
    return replace(asked, bolt=bolt, rules=rules or LayRules())


def adds(explanation: Explanation) -> dict[Rule, float]:
    """Return what each rule adds, mm."""
    return {one.rule: one.adds_mm for one in explanation.prices}


def test_nap_costs_the_length_of_a_triangle() -> None:
    """Two triangles 60 x 100 on 60 mm take 200 mm with nap and share 100 mm without."""
    bolt = Bolt(width_mm=60.0, nap=True, shop_step_mm=None)

    explanation = explained(on_bolt(bolt, piece("front", TRIANGLE, count=2)))

    assert adds(explanation) == {Rule.NAP: pytest.approx(100.0, abs=0.01)}
    assert explanation.bare_mm == pytest.approx(100.0, abs=0.01)
    assert explanation.prices[0].shop_without_mm == pytest.approx(100.0, abs=0.01)


def test_sums_of_the_shop_are_shares_like_the_others() -> None:
    """A box 60 x 100 on 60 mm of cloth that loses a fifth of its length, and 20 mm at the end.

    (100 + 20) / 0.8 = 150, in steps of 100 asks for 200: 50 by rounding. Without the end 100 / 0.8
    = 125, so the end adds 25; without shrinkage 100, so that adds 25.
    """
    bolt = Bolt(width_mm=60.0, shop_step_mm=100.0, end_allowance_mm=20.0, shrink_along=0.2)

    explanation = explained(on_bolt(bolt, piece("front", box(60, 100))))

    assert list(adds(explanation)) == [Rule.ROUNDING, Rule.ENDS, Rule.SHRINKAGE]
    assert list(adds(explanation).values()) == pytest.approx([50.0, 25.0, 25.0], abs=0.05)
    # alone: without shrinkage 100 + 20 = 120 instead of 150, and the shop still cuts 200
    without = explanation.prices[2]
    assert without.alone_mm == pytest.approx(30.0, abs=0.05)
    assert without.shop_without_mm == pytest.approx(200.0)


def test_selvage_gap_fold_and_flaws_have_their_price() -> None:
    """Two boxes 60 x 100 on cloth 120 wide: 100 mm side by side, 200 mm one after another.

    Selvages of 5 leave 110; a gap of 3 asks for 123; a fold leaves 60, where only a pair goes
    through both layers; and a flaw 10 long over the whole width at the start moves all by 10.
    """
    two = piece("front", box(60, 100), count=2, pair=True)
    bolt = Bolt(width_mm=120.0, shop_step_mm=None)
    flaw = Flaw(at_mm=0.0, across_mm=0.0, long_mm=10.0, wide_mm=120.0)

    selvage = explained(on_bolt(replace(bolt, selvage_mm=5.0), two))
    gap = explained(on_bolt(bolt, two, rules=LayRules(gap_mm=3.0)))
    fold = explained(on_bolt(bolt, two, piece("tie", box(120, 50)),
                             rules=LayRules(Spread.LENGTHWISE)))  # fmt: skip
    flawed = explained(on_bolt(replace(bolt, flaws=(flaw,)), two))

    assert adds(selvage) == {Rule.SELVAGE: pytest.approx(100.0, abs=0.01)}
    assert adds(gap)[Rule.GAP] == pytest.approx(103.0, abs=0.1)
    assert adds(fold) == {Rule.SPREAD: pytest.approx(0.0, abs=0.01)}
    assert adds(flawed) == {Rule.FLAWS: pytest.approx(10.0, abs=0.01)}


def test_a_repeat_costs_what_hand_arithmetic_says() -> None:
    """A front 200 long and a back 200 long on cloth 60 wide, one after another: 400 mm.

    Their sides lie 30 and 50 mm from the foot. On stripes of 100 mm the back may begin 20 mm
    before a whole repeat from the front: at 280, and ends at 480.
    """
    fronts = (boxed("front", side=(0.0, 30.0)), boxed("back", side=(0.0, 50.0)))
    repeat = Repeat(along_mm=100.0, even=False)
    bolt = Bolt(width_mm=60.0, shop_step_mm=None, repeat=repeat, cut_on_repeat=True)
    asked = LayRequest(
        pattern=matched_pattern(*fronts),
        selections=ONE,
        cloth="shell",
        bolt=bolt,
        search=QUICK,
    )

    explanation = explained(asked)

    # back first: front at 220, which is 20 mm past a whole repeat, and ends at 420
    assert adds(explanation)[Rule.REPEAT] == pytest.approx(20.0, abs=0.05)
    assert explanation.bare_mm == pytest.approx(400.0, abs=0.01)
    assert rule_of_thumb_sentences(explanation) == (
        "Matching takes 0.79 in (2 cm) more here; the rule of half a yard says 1/2 yd (45.7 cm), "
        "the rule of one repeat 3.94 in (10 cm).",
    )


def test_the_repeat_to_begin_on_is_part_of_what_the_repeat_costs() -> None:
    """One front of 200 mm has nobody to match: all that its repeat of 100 mm adds is the 100."""
    asked = LayRequest(
        pattern=matched_pattern(boxed("front", side=(0.0, 30.0))),
        selections=ONE,
        cloth="shell",
        bolt=Bolt(width_mm=60.0, shop_step_mm=None, repeat=Repeat(along_mm=100.0)),
        search=QUICK,
    )

    assert adds(explained(asked))[Rule.REPEAT] == pytest.approx(100.0, abs=0.05)


def test_money_adds_up_to_the_cent() -> None:
    """Shares are differences of rounded costs, so their sum is the cost of what is asked for."""
    bolt = Bolt(
        width_mm=61.0, nap=True, price=parse_price("3.33/m"), shop_step_mm=70.0, selvage_mm=0.4
    )

    explanation = explained(on_bolt(bolt, piece("front", TRIANGLE, count=3)))

    costs = [one.adds_cost for one in explanation.prices]
    assert explanation.bare_cost is not None
    assert None not in costs
    total = sum((cost for cost in costs if cost is not None), explanation.bare_cost)
    assert total == parse_price("3.33/m").cost(explanation.asked_mm)
    assert all(cost is not None and cost >= Decimal(0) for cost in costs)


def test_a_lay_that_obeys_nothing_is_bare_cloth() -> None:
    """Plain cloth, open, cut to any length: there is nothing to explain, and no lay to make."""
    asked = on_bolt(Bolt(width_mm=60.0, shop_step_mm=None), piece("front", TRIANGLE))

    explanation = explained(asked)

    assert explanation.prices == ()
    assert explanation.bare_mm == explanation.asked_mm
    assert lays_to_explain(asked) == 0
    assert [bar.kind for bar in explain_bars(explanation)] == [BarKind.BASE, BarKind.TOTAL]


def test_the_best_way_of_spreading_is_explained_as_the_way_it_is() -> None:
    """What was asked as best is explained as the spread that came of it."""
    asked = on_bolt(
        Bolt(width_mm=120.0, shop_step_mm=None),
        piece("front", box(60, 100), count=2, pair=True),
        rules=LayRules(Spread.BEST),
    )

    explanation = explained(asked)

    assert explanation.request.rules.spread is Spread.LENGTHWISE
    assert adds(explanation) == {Rule.SPREAD: pytest.approx(0.0, abs=0.01)}


@st.composite
def demanding_cloths(draw: st.DrawFn) -> tuple[Bolt, LayRules]:
    """Draw cloth 400 mm wide with several rules to obey, and how it is spread."""
    spread = draw(st.sampled_from([Spread.OPEN, Spread.LENGTHWISE, Spread.TURNED, Spread.DOUBLE]))
    special = "" if spread is Spread.TURNED else draw(st.sampled_from(["", "flaw", "repeat"]))
    flaw = Flaw(at_mm=30.0, across_mm=60.0, long_mm=20.0, wide_mm=30.0)
    shrink = draw(st.sampled_from([0.0, 0.05]))
    bolt = Bolt(
        width_mm=400.0,
        nap=draw(st.booleans()),
        selvage_mm=draw(st.sampled_from([0.0, 7.0])),
        shrink_along=shrink,
        shrink_across=shrink,
        end_allowance_mm=5.0,
        flaws=(flaw,) if special == "flaw" else (),
        repeat=Repeat(along_mm=37.0) if special == "repeat" else None,
    )
    return bolt, LayRules(spread, gap_mm=draw(st.sampled_from([0.0, 2.0])))


@settings(max_examples=12, deadline=None)
@given(
    cloth=demanding_cloths(),
    sizes=st.lists(st.tuples(st.floats(20.0, 90.0), st.floats(20.0, 90.0)), min_size=1, max_size=3),
)
def test_to_take_a_rule_away_never_costs(
    cloth: tuple[Bolt, LayRules], sizes: list[tuple[float, float]]
) -> None:
    """Neither alone nor after others, and the shares add up to what is asked for."""
    bolt, rules = cloth
    pieces = [
        piece(f"p{number}", box(*size), count=2, pair=True) for number, size in enumerate(sizes)
    ]
    asked = on_bolt(bolt, *pieces, rules=rules)

    explanation = explained(asked)

    assert all(one.adds_mm >= -1e-6 for one in explanation.prices)
    assert all(one.alone_mm >= -1e-6 for one in explanation.prices)
    assert all(one.shop_without_mm <= explanation.asked_mm + 1e-6 for one in explanation.prices)
    made_up_mm = explanation.bare_mm + sum(one.adds_mm for one in explanation.prices)
    assert made_up_mm == pytest.approx(explanation.asked_mm)
    assert tuple(one.rule for one in explanation.prices) == rules_of(asked)


def test_cloth_that_does_not_shrink_keeps_its_design_and_flaws_in_place() -> None:
    """A fifth is lost along, a tenth across 1000 mm: 900 mm are left, 50 more at each edge then."""
    flaw = Flaw(at_mm=100.0, across_mm=200.0, long_mm=10.0, wide_mm=20.0)
    bolt = Bolt(
        width_mm=1000.0,
        shrink_along=0.2,
        shrink_across=0.1,
        flaws=(flaw,),
        repeat=Repeat(along_mm=100.0, across_mm=50.0),
    )

    kept = unshrinking(bolt)

    assert (kept.shrink_along, kept.shrink_across, kept.usable_width_mm) == (0.0, 0.0, 1000.0)
    assert kept.repeat == Repeat(along_mm=80.0, across_mm=45.0)
    # from the middle 300 becomes 270, so the flaw begins at 230
    assert kept.flaws == (Flaw(at_mm=80.0, across_mm=230.0, long_mm=8.0, wide_mm=18.0),)


def test_progress_counts_the_lays_and_may_stop() -> None:
    """Three rules that change the marker: each alone, then two and all three."""
    bolt = Bolt(width_mm=130.0, nap=True, selvage_mm=5.0)
    asked = on_bolt(bolt, piece("front", TRIANGLE, count=3), rules=LayRules(gap_mm=2.0))
    seen: list[int] = []

    def listen(number: int, _report: LayProgress) -> bool:
        seen.append(number)
        return True

    explanation = explain(asked, lay_pieces(asked), progress=listen)

    assert lays_to_explain(asked) == 5
    assert sorted(set(seen)) == [0, 1, 2, 3, 4]
    assert all(one.adds_mm >= 0.0 for one in explanation.prices)


def test_every_freed_lay_is_lawful() -> None:
    """On a bolt without end, so that what is left of the bolt spoils no lay."""
    bolt = Bolt(width_mm=60.0, nap=True, length_left_mm=50.0)
    asked = on_bolt(bolt, piece("front", TRIANGLE, count=2))

    freed = freed_of(asked, frozenset((Rule.NAP,)))

    assert (freed.bolt.nap, freed.bolt.length_left_mm) == (False, None)
    assert check_marker(lay_pieces(freed).marker) == ()


# As rows, sentences and a picture


@pytest.fixture(scope="module")
def napped() -> Explanation:
    """Return two triangles with nap, in steps of 100 mm, at 10 for a metre: 200 mm for 2.00."""
    bolt = Bolt(
        width_mm=60.0,
        nap=True,
        shop_step_mm=100.0,
        price=parse_price("10/m"),
        units=UnitSystem.METRIC,
        end_allowance_mm=0.0,
    )
    return explained(on_bolt(bolt, piece("front", TRIANGLE, count=2)))


def test_the_row_has_every_rule_with_its_figures(napped: Explanation) -> None:
    """200 mm asked, 100 bare, 100 by nap; without nap 100 mm for 1.00."""
    row = explain_row(napped)

    assert (row["asked_mm"], row["bare_cost"]) == (200.0, 1.0)
    assert row["bare_mm"] == pytest.approx(100.0, abs=0.01)
    rounding, nap = row["rules"]
    assert rounding["rule"] == "shop rounding"
    assert rounding["adds_mm"] == pytest.approx(0.0, abs=0.01)
    assert nap["rule"] == "nap"
    assert nap["shop_without_mm"] == pytest.approx(100.0, abs=0.01)
    assert (nap["adds_cost"], nap["cost_without"]) == (1.0, 1.0)


def test_the_bars_stand_one_on_another(napped: Explanation) -> None:
    """Each begins where the one before it ends, from the bare cloth to the whole."""
    bars = explain_bars(napped)

    assert [bar.name for bar in bars] == ["Bare cloth", "Nap", "Shop rounding", "Ask for"]
    assert [bar.start_mm for bar in bars[1:-1]] == [bar.end_mm for bar in bars[:-2]]
    assert bars[-1].end_mm == pytest.approx(bars[-2].end_mm)
    assert bars[1].length == "+ 10 cm (3.94 in)"
    assert bars[2].length == "nothing"


def test_sentences_tell_which_rule_saves_a_step(napped: Explanation) -> None:
    """Nap alone saves 10 cm; where none does, that is told."""
    plain = explained(on_bolt(Bolt(width_mm=70.0, selvage_mm=1.0), piece("front", TRIANGLE)))

    assert explain_sentences(napped) == (
        "Without the nap and all else the same, ask for 10 cm (3.94 in) less. That saves 1.00.",
    )
    assert "No single rule costs a step" in explain_sentences(plain)[0]


def test_the_picture_tells_every_bar(napped: Explanation) -> None:
    """Its description reads like the table."""
    scene = explain_scene(napped)

    assert "what each rule costs" in scene.title
    for words in ("Bare cloth: 10 cm (3.94 in)", "Nap: + 10 cm", "Ask for: 20 cm (7.88 in)"):
        assert words in scene.description


@pytest.mark.parametrize(
    ("language", "name", "saying"),
    [
        ("fr", "Sens", "Sans le sens, toutes choses égales, demandez 10 cm (3,94 in) de moins."),
        ("es", "Dirección", "Sin la dirección y con todo lo demás igual, pida 10 cm (3,94 in)"),
    ],
)
def test_what_a_rule_costs_is_told_in_every_language(
    napped: Explanation, language: str, name: str, saying: str
) -> None:
    """Bars, sentences and picture alike, with the decimal sign of the language."""
    words = words_of(language)

    assert explain_bars(napped, words)[1].name == name
    (sentence,) = explain_sentences(napped, words)
    assert sentence.startswith(saying)
    assert name in explain_scene(napped, words).description


def test_every_rule_has_a_name_in_every_language() -> None:
    """A rule that is added later cannot stay English."""
    for rule in Rule:
        for language in ("fr", "es"):
            words = words_of(language)
            assert words.say(RULE_NAMES[rule]) != RULE_NAMES[rule]
