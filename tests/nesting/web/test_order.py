"""A class order on the page: rows, a pasted list or a file; bounded like other work."""

import pytest
from starlette.testclient import TestClient

from nesting.web.order import LARGEST_LIST, MOST_TOGETHER

ORIGIN = {"origin": "http://localhost"}
BASE = {"pattern": "tote", "width": "1m", "price": "10/m"}
LIST = "name,view,size,count\nAda,A,one,1\nBen,A,one,2\n"


def test_rows_of_the_form_are_laid_together(client: TestClient) -> None:
    """Each tote takes 60 cm of 1 m; together and alone are told, and who gets what."""
    typed = BASE | {
        "name": ["Ada", "", "Ben"],
        "view": ["A", "A", "A"],
        "size": ["one", "one", "one"],
        "count": ["1", "", "2"],
    }

    page = client.post("/order", data=typed, headers=ORIGIN)

    assert page.status_code == 200
    assert "/order/" in str(page.url)
    assert "1.80 m" in page.text
    assert "Ada" in page.text
    assert "Ben" in page.text
    assert 'value="Ben"' in page.text


@pytest.mark.slow
def test_a_pasted_list_and_a_file_say_the_same(client: TestClient) -> None:
    """The marker's files and the list of who gets what can be taken along."""
    pasted = client.post("/order", data=BASE | {"list": LIST}, headers=ORIGIN)
    handed = client.post(
        "/order", data=BASE, files={"file": ("class.csv", LIST, "text/csv")}, headers=ORIGIN
    )

    assert pasted.status_code == handed.status_code == 200
    key = str(pasted.url).split("/order/")[1].split("?")[0]
    who = client.get(f"/jobs/{key}/order.csv").text
    assert "Ada" in who
    assert client.get(f"/jobs/{key}/marker.svg").status_code == 200
    assert client.get(f"/jobs/{key}/pages.pdf?paper=a3").content.startswith(b"%PDF")
    assert client.get(f"/jobs/{key}/pages.pdf?paper=slate").status_code == 400


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({}, "Nobody is on the list"),
        ({"list": "view,size\nA,one"}, "there is no column count"),
        ({"list": "view,size,count\nB,one,1"}, "line 2"),
        ({"list": f"view,size,count\nA,one,{MOST_TOGETHER + 1}"}, "too many here"),
        ({"list": "x" * (LARGEST_LIST + 1)}, "more than"),
        ({"list": LIST, "width": "1"}, "no unit"),
        ({"list": LIST, "width": "20cm"}, "needs"),
        ({"list": LIST, "pattern": "../../etc/passwd"}, "that pattern is not here"),
    ],
)
def test_an_order_that_cannot_be_laid_is_told(
    client: TestClient, typed: dict[str, str], words: str
) -> None:
    """With a sentence, and what was typed still there."""
    page = client.post("/order", data=BASE | typed, headers=ORIGIN)

    assert page.status_code == 400
    assert words in page.text
    if "list" in typed and len(typed["list"]) < LARGEST_LIST:
        assert "<textarea" in page.text


def test_an_order_that_is_not_kept_any_more_is_told(client: TestClient) -> None:
    """The form is there to lay it again."""
    page = client.get("/order/gone?pattern=tote&width=1m")

    assert page.status_code == 400
    assert "not kept any more" in page.text
