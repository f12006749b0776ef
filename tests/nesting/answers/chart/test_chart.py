"""The yardage chart: every cell is a lay, and more freedom never costs more."""

from dataclasses import replace
from pathlib import Path

import pytest

from nesting.answers.chart.chart import make_chart, views_cut_from
from nesting.errors import LayError
from nesting.lay import lay_pieces
from pieces.errors import UnknownNameError
from tests.executors import Here
from tests.nesting.small_charts import chart, chart_request, two_by_two


def test_a_cell_is_what_a_lay_says() -> None:
    """The most constrained cell of a view and size is offered no other marker: the same lay."""
    made = chart()
    request = made.request.lays("A", "M")[3]  # 120 wide with nap; 45 is too narrow for 60

    cell = made.cell("A", "M", request.bolt)

    assert cell.result is not None
    assert cell.result.marker == lay_pieces(request).marker


def test_figures_worked_out_by_hand() -> None:
    """View B is the panel alone, 40 x 100 or 50 x 200 with the arrow along the cloth.

    On 45 mm the small panel takes 100 mm and the large one, 50 wide, does not go on it. On 120 mm
    they take 100 and 200.
    """
    made = chart()

    lengths = {
        (size, bolt.width_mm, bolt.nap): None if cell.result is None else cell.result.shop_length_mm
        for size in ("M", "L")
        for bolt in made.request.bolts
        for cell in (made.cell("B", size, bolt),)
    }

    assert lengths == {
        ("M", 45.0, False): 100.0,
        ("M", 45.0, True): 100.0,
        ("M", 120.0, False): 100.0,
        ("M", 120.0, True): 100.0,
        ("L", 45.0, False): None,
        ("L", 45.0, True): None,
        ("L", 120.0, False): 200.0,
        ("L", 120.0, True): 200.0,
    }


def test_wider_and_plain_cells_never_need_more() -> None:
    """In each view and size: down the widths never longer, and without nap never longer."""
    made = chart((72.0, 95.0, 120.0, 150.0))

    for key in made.request.cells:
        cells = made.rows[key]
        lengths = [cell.result.marker_length_mm for cell in cells if cell.result is not None]
        plain, napped = lengths[0::2], lengths[1::2]
        assert len(lengths) == 8
        assert plain == sorted(plain, reverse=True)
        assert napped == sorted(napped, reverse=True)
        assert all(p <= n for p, n in zip(plain, napped, strict=True))


def test_a_piece_too_wide_is_a_cell_with_the_reason() -> None:
    """The triangle is 60 across and does not go on 45."""
    made = chart()

    cell = made.cell("A", "M", made.request.bolts[0])

    assert cell.result is None
    assert 'piece "Front", size M, needs' in cell.refusal


def test_a_second_run_computes_nothing(tmp_path: Path) -> None:
    """16 cells: two views, two sizes, two widths, two naps."""
    first, second = Here(), Here()

    made = make_chart(chart_request(), executor=first, folder=tmp_path)
    again = make_chart(chart_request(), executor=second, folder=tmp_path)

    assert (first.ran, second.ran) == (16, 0)
    assert again == made


@pytest.mark.slow
def test_processes_of_this_computer_do_it_by_themselves() -> None:
    """Without an executor the chart is the same."""
    request = replace(chart_request(), views=("B",))

    by_pool, here = make_chart(request, workers=2), make_chart(request, executor=Here())

    assert [(row.result and row.result.marker, row.refusal) for row in by_pool.all_rows] == [
        (row.result and row.result.marker, row.refusal) for row in here.all_rows
    ]


@pytest.mark.parametrize("field", ["views", "sizes", "bolts"])
def test_an_empty_chart_is_refused(field: str) -> None:
    """Something must be charted, and nothing twice."""
    with pytest.raises(LayError, match="at least one"):
        make_chart(replace(chart_request(), **{field: ()}), executor=Here())
    twice = getattr(chart_request(), field) * 2
    with pytest.raises(LayError, match="twice"):
        make_chart(replace(chart_request(), **{field: twice}), executor=Here())


def test_an_unknown_size_is_refused_before_work() -> None:
    """The sentence lists the sizes there are."""
    executor = Here()
    with pytest.raises(UnknownNameError, match='"M", "L"'):
        make_chart(replace(chart_request(), sizes=("M", "XL")), executor=executor)

    assert executor.ran == 0


def test_views_that_cut_nothing_are_left_out_or_refused() -> None:
    """A view without lining is no row of the chart of the lining."""
    pattern = two_by_two()
    without = replace(pattern, cloths=(*pattern.cloths, replace(pattern.cloths[0], name="lining")))

    assert views_cut_from(without, "shell") == ("A", "B")
    assert views_cut_from(without, "lining") == ()
    request = replace(chart_request(), pattern=without, cloth="lining")
    with pytest.raises(LayError, match="cuts nothing from lining"):
        make_chart(request, executor=Here())
