"""Order lists as spreadsheets write them, and what is wrong in those that cannot be used."""

from pathlib import Path

import pytest

from nesting.answers.order.order import OrderLine
from nesting.answers.order.order_file import parse_order, read_order
from nesting.errors import OrderError
from tests.nesting.small_charts import two_by_two

LINES = (OrderLine("A", "M", 1, "Ida"), OrderLine("B", "L", 2, ""))


@pytest.mark.parametrize(
    "text",
    [
        "name,view,size,count\nIda,A,M,1\n,B,L,2\n",
        "name;view;size;count\r\nIda;A;M;1\r\n;B;L;2\r\n",
        "Count\tSize\tView\tName\n1\tM\tA\tIda\n2\tL\tB\t\n",
        "name,view,size,count,phone\n\n Ida , A , M , 1 ,0123\n,,,,\n,B,L,2\n",
        '"name","view","size","count"\n"Ida","A","M","1"\n"","B","L","2"',
    ],
)
def test_lists_that_say_the_same(text: str) -> None:
    """Commas, semicolons or tabs; any order of columns; more columns; blank lines; quotes."""
    assert parse_order(text, two_by_two()) == LINES


def test_a_byte_order_mark_is_no_letter(tmp_path: Path) -> None:
    """Spreadsheets begin a file in UTF-8 with one."""
    path = tmp_path / "class.csv"
    path.write_bytes(b"\xef\xbb\xbfview;size;count\nA;M;1\n")

    assert read_order(path, two_by_two()) == (OrderLine("A", "M", 1, ""),)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "line 1: it is empty"),
        ("\n\n", "line 1: it is empty"),
        ("view,size,count\n", "line 1: nobody is on the list"),
        ("Ida,A,M,1\n", "line 1: there is no column view and no column size and no column count"),
        ("view,size\nA,M\n", "line 1: there is no column count"),
        ("view,size,count,size\nA,M,1,M\n", "line 1: two columns are called size"),
        ("view,size,count\nA,M,1\nC,M,1\n", 'line 3: no view "C" in this pattern'),
        ("view,size,count\nA,XL,1\n", 'line 2: no size "XL" in this pattern; it has "M", "L"'),
        ("view,size,count\n\nA,M,many\n", 'line 3: "many" is no number of garments'),
        ("view,size,count\nA,M,0\n", 'line 2: "0" is no number of garments from 1 to 100'),
        ("view,size,count\nA,M,101\n", 'line 2: "101" is no number'),
        ("view,size,count\nA,M,1.5\n", 'line 2: "1.5" is no number'),
        ("view,size,count\nA,M,-1\n", 'line 2: "-1" is no number'),
        ("view,size,count\nA,M,\N{SUPERSCRIPT TWO}\n", "is no number"),
        ("view,size,count\nA,M," + "9" * 5000 + "\n", "is no number"),
        ("view,size,count\nA,M\n", "line 2: the count is missing"),
        ("view,size,count\n,M,1\n", "line 2: the view is missing"),
        ('view,size,count\n"A,M,1\n', "it is no CSV"),
    ],
)
def test_what_is_wrong_is_told_with_its_line(text: str, told: str) -> None:
    """One sentence, which begins with the line and names the fault."""
    with pytest.raises(OrderError) as refused:
        parse_order(text, two_by_two())

    assert told in str(refused.value)
    assert str(refused.value).startswith("line ")
    assert len(str(refused.value)) < 200


def test_files_that_cannot_be_read_are_named(tmp_path: Path) -> None:
    """A missing file, one in other letters, one far too large, and a fault inside."""
    with pytest.raises(OrderError, match=r"none\.csv does not exist"):
        read_order(tmp_path / "none.csv", two_by_two())
    (tmp_path / "old.csv").write_bytes(b"view,size,count\nA,M,1\n\xe9")
    with pytest.raises(
        OrderError, match=r"old\.csv, line 3: it is not text in UTF-8; save it as UTF-8"
    ):
        read_order(tmp_path / "old.csv", two_by_two())
    (tmp_path / "large.csv").write_bytes(b"," * 1_100_000)
    with pytest.raises(OrderError, match=r"large\.csv is larger than 1 MB, the limit"):
        read_order(tmp_path / "large.csv", two_by_two())
    (tmp_path / "bad.csv").write_text("view,size,count\nZ,M,1\n", encoding="utf-8")
    with pytest.raises(OrderError, match=r"bad\.csv, line 2: no view"):
        read_order(tmp_path / "bad.csv", two_by_two())
