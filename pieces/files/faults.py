"""What is wrong with a value in somebody's file, in the words of that file."""

import difflib
import json
from collections.abc import Iterable, Mapping
from typing import Any

from pieces.errors import LONGEST_SHOWN, cut_short, listed

WANTED = {
    "string_type": "must be text in quotes",
    "int_type": "must be a whole number",
    "int_from_float": "must be a whole number",
    "float_type": "must be a number",
    "float_parsing": "must be a number",
    "int_parsing": "must be a whole number",
    "finite_number": "must be a finite number",
    "bool_type": "must be true or false",
    "list_type": "must be a list in [ ]",
    "tuple_type": "must be a list in [ ]",
    "dict_type": "must be a table",
    "model_type": "must be a table",
    "model_attributes_type": "must be a table",
}
_LIMITS = {
    "literal_error": ("be one of", "expected"),
    "enum": ("be one of", "expected"),
    "greater_than": ("be above", "gt"),
    "greater_than_equal": ("be at least", "ge"),
    "less_than": ("be below", "lt"),
    "less_than_equal": ("be at most", "le"),
    "too_short": ("have at least", "min_length"),
    "too_long": ("have at most", "max_length"),
}


def fault_sentence(fault: Mapping[str, Any], *, known: Iterable[str] = ()) -> str:
    """Return where the fault is that a schema found, and what is wrong there.

    Parameters
    ----------
    fault
        One of the errors of a pydantic ``ValidationError``.
    known
        The keys that may stand where an unknown one stands.

    Examples
    --------
    >>> fault_sentence({"loc": ("bolts", 1, "nap"), "type": "bool_type", "input": "yes", "msg": ""})
    'bolts 2, nap must be true or false, not "yes"'
    >>> fault_sentence({"loc": ("colour",), "type": "extra_forbidden", "input": 3, "msg": ""})
    'unknown key "colour"; take it out'
    """
    place = place_words(fault["loc"])
    *above, last = fault["loc"] or ("",)
    where = f"{place_words(above)}: " if above else ""
    if fault["type"] == "extra_forbidden":
        return f"{where}{unknown_key(str(last), known)}"
    if fault["type"] == "missing":
        return f'{where}key "{last}" is missing; add it'
    return f"{place} {wanted(fault)}, not {shown(fault['input'])}"


def place_words(path: Iterable[str | int]) -> str:
    """Return the way to a value, such as ``bolts 2, width``: people count from one."""
    words = ""
    for key in path:
        words += f" {key + 1}" if isinstance(key, int) else f"{', ' if words else ''}{key}"
    return words.strip()


def unknown_key(name: str, known: Iterable[str]) -> str:
    """Return what is said of a key that means nothing where it stands."""
    keys = list(known)
    near = difflib.get_close_matches(name, keys, n=1) if len(name) <= LONGEST_SHOWN else []
    name = cut_short(name)
    if near:
        return f'unknown key "{name}"; did you mean "{near[0]}"?'
    return f'unknown key "{name}"; ' + (
        f"the keys here are {listed(keys)}" if keys else "take it out"
    )


def wanted(fault: Mapping[str, Any]) -> str:
    """Return what a value must be."""
    kind, limits = fault["type"], fault.get("ctx", {})
    if kind in WANTED:
        return WANTED[kind]
    if kind in _LIMITS:
        words, name = _LIMITS[kind]
        limit = limits[name]
        return f"must {words} {limit:g}" if isinstance(limit, float) else f"must {words} {limit}"
    return f"is not right ({fault['msg'][:1].lower()}{fault['msg'][1:]})"


def shown(value: object) -> str:
    """Write a value much as it stands in the file, cut short."""
    try:
        text = json.dumps(value, ensure_ascii=False, default=str)
    except (ValueError, RecursionError):
        text = "a value that is too long to show"
    return text if len(text) <= LONGEST_SHOWN else f"{text[: LONGEST_SHOWN - 3]}..."
