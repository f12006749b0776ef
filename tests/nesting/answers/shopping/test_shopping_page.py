"""The printed page: everything on it, on one page, nothing over anything else."""

from dataclasses import replace
from itertools import combinations

import pytest
import shapely

from nesting.answers.shopping.shopping import ClothChoice, ShoppingList, shop
from nesting.answers.shopping.shopping_page import shopping_scene
from nesting.draw.scene import Act, Scene, Text, walk
from nesting.draw.writers.svg_writer import svg_text
from nesting.errors import DrawError
from pieces.measures.price import parse_price
from pieces.measures.units import UnitSystem
from tests.nesting.drawn import groups, words
from tests.nesting.small_shop import asked, bag, metric_bolt

MARGIN_MM = 10.0


def extent(acts: tuple[Act, ...]) -> shapely.Geometry:
    """Return the box around everything in a picture."""
    boxes = []
    for _, act in walk(acts):
        points = getattr(act, "outline_mm", None)
        if points is not None:
            boxes.append(shapely.MultiPoint(points))
    return shapely.envelope(shapely.union_all(boxes))


def check_page(scene: Scene) -> None:
    """Hold a page to its promise: words in the margins, clear of each other and of pictures."""
    markers = groups(scene.acts, "marker")
    texts = [
        act
        for _, act in walk(tuple(a for a in scene.acts if a not in markers))
        if isinstance(act, Text)
    ]
    boxes = [(text.words, shapely.Polygon(text.box_mm).buffer(-0.05)) for text in texts]
    page = shapely.box(
        MARGIN_MM, MARGIN_MM, scene.width_mm - MARGIN_MM, scene.height_mm - MARGIN_MM
    )
    for told, box in boxes:
        assert page.covers(box), told
    for (one, first), (other, second) in combinations(boxes, 2):
        assert not first.intersects(second), (one, other)
    pictures = [extent(marker.acts).buffer(-0.05) for marker in markers]
    for picture in pictures:
        assert page.covers(picture)
        for told, box in boxes:
            assert not picture.intersects(box), told
    for first, second in combinations(pictures, 2):
        assert not first.intersects(second)
    for tick in groups(scene.acts, "tick"):
        for told, box in boxes:
            assert not extent(tick.acts).intersects(box), told


@pytest.fixture(scope="module")
def shopping() -> ShoppingList:
    """Return the list of one lined bag."""
    return shop(asked())


def said(scene: Scene) -> str:
    """Return all words of a page as one text."""
    return " ".join(words(scene.acts))


def test_the_page_tells_what_to_buy(shopping: ShoppingList) -> None:
    """Lengths, prices, total, notions, what to do first and the cautions are all there."""
    told = said(shopping_scene(shopping))

    for wanted in (
        *("shell: 50 cm", "lining: 1.00 m", "€ 6.18 at € 12.35/m", "€ 14.18", "without notions"),
        *("Canvas, since it is firm.", "button: 15 mm, 9/16 in, 24 ligne", "Before you cut"),
        *("Test for nap", "Pins are sharp.", "cut at the red line: 50 cm"),
    ):
        assert wanted in told


def test_nothing_overlaps(shopping: ShoppingList) -> None:
    """Words, boxes and pictures stand clear of each other inside the margins."""
    check_page(shopping_scene(shopping))


def test_every_line_to_buy_has_a_box_to_tick(shopping: ShoppingList) -> None:
    """Two cloths, three notions and five things before cutting."""
    assert len(groups(shopping_scene(shopping).acts, "tick")) == 2 + 3 + 5


def test_each_cloth_has_its_marker(shopping: ShoppingList) -> None:
    """A picture for each, with each of its two pieces."""
    markers = groups(shopping_scene(shopping).acts, "marker")

    assert [marker.title for marker in markers] == ["shell", "lining"]
    assert [len(groups(marker.acts, "piece")) for marker in markers] == [2, 2]


def test_paper_follows_the_units(shopping: ShoppingList) -> None:
    """A4 for metres; letter where the first bolt is told in inches."""
    a4 = shopping_scene(shopping)
    yards = replace(metric_bolt(1000), units=UnitSystem.IMPERIAL)
    letter = shopping_scene(shop(asked(shell=ClothChoice(yards))))

    assert (a4.width_mm, a4.height_mm) == (210.0, 297.0)
    assert (letter.width_mm, letter.height_mm) == pytest.approx((215.9, 279.4))
    check_page(letter)


def test_a_long_list_shrinks_until_it_fits(shopping: ShoppingList) -> None:
    """Forty cautions: smaller type than on the short list, still nothing over anything else."""
    cautions = ("Mind this long sentence about your fingers and your thumbs.",) * 40
    short, long = (shopping_scene(one) for one in (shopping, replace(shopping, cautions=cautions)))

    check_page(long)
    assert _title_mm(long) < _title_mm(short)


def _title_mm(scene: Scene) -> float:
    """Return the type size of the pattern's name."""
    sizes = [
        act.height_mm
        for _, act in walk(scene.acts)
        if isinstance(act, Text) and act.words.startswith("Bag |")
    ]
    return max(sizes)


@pytest.mark.slow
def test_a_list_beyond_one_page_is_refused(shopping: ShoppingList) -> None:
    """The way out is told."""
    endless = replace(shopping, cautions=("Mind this long sentence about your fingers.",) * 400)

    with pytest.raises(DrawError, match=r"too long for one page .* write it as Markdown"):
        shopping_scene(endless)


def test_an_odd_pattern_still_makes_a_page() -> None:
    """A name of one long word, a dear cloth and no cautions."""
    sheet = replace(bag(), name="N" * 90, cautions=())
    dear = replace(metric_bolt(1000), price=parse_price("kr 123456.78/m"))

    scene = shopping_scene(shop(asked(sheet=sheet, shell=ClothChoice(dear))))

    check_page(scene)
    assert "Take care" not in said(scene)


def test_the_same_list_gives_the_same_page(shopping: ShoppingList) -> None:
    """Act for act."""
    one, other = (svg_text(shopping_scene(shopping)) for _ in range(2))

    assert one == other
