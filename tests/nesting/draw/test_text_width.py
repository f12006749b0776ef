"""Words in lines that fit."""

from nesting.draw.text_width import text_width_mm, wrapped


def test_words_that_are_too_long_are_broken() -> None:
    """A name without a space does not run off the page."""
    lines = wrapped("x" * 100, 50.0, 5.0)

    assert "".join(lines) == "x" * 100
    assert all(text_width_mm(line, 5.0) <= 50.0 for line in lines)
    assert wrapped("", 50.0, 5.0) == []
