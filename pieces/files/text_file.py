"""Text files from strangers: read no further than a limit, and refused in one sentence."""

from pathlib import Path


def read_text(path: Path | str, what: str, *, largest_bytes: int, error: type[Exception]) -> str:
    """Return the text of a UTF-8 file.

    Parameters
    ----------
    path
        The file.
    what
        What it should be, for the sentence: ``"marker file"``.
    largest_bytes
        Size beyond which it is refused; no more than that is read.
    error
        Raised with the sentence.

    Raises
    ------
    Exception
        An ``error`` if there is no such file, or it is too large or no UTF-8 text.
    """
    try:
        with Path(path).open("rb") as file:
            data = file.read(largest_bytes + 1)
    except (OSError, ValueError) as problem:  # ValueError: a name no file can have
        reason = getattr(problem, "strerror", None) or problem
        raise error(f"{what} {path} cannot be read: {reason}") from problem
    if len(data) > largest_bytes:
        raise error(
            f"{what} {path} is larger than {largest_bytes / 1e6:.0f} MB, the limit for one; "
            "choose the right file"
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        raise error(f"{what} {path} is not text in UTF-8; save it as UTF-8") from problem
