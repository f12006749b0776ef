"""Open data of published strips: found by NESTING_DATASETS or beside the checkout, else skipped."""

import json
import os
from pathlib import Path

import numpy as np
import pytest

from nesting.engine import Strip, StripItem

CHECKOUT = Path(__file__).resolve().parent.parent
INSTANCES = ("shirts", "trousers", "swim", "shapes0", "shapes1", "blaz", "fu", "dighe1", "dighe2")


def folder() -> Path | None:
    """Return the data folder, or None where there is none."""
    named = os.environ.get("NESTING_DATASETS")
    places = [Path(named)] if named else [CHECKOUT.parent / "shared" / "datasets"]
    return next((place for place in places if place.is_dir()), None)


def path(name: str) -> Path:
    """Return the path of a data file, or skip the test with the reason."""
    found = folder()
    if found is None or not (found / name).is_file():
        pytest.skip(
            f"open data {name} is not here; set NESTING_DATASETS to the folder that holds it"
        )
    return found / name


def published_strip(name: str, *, turns_deg: tuple[float, ...] | None = None) -> Strip:
    """Return a published strip; ``turns_deg`` replaces the turns its file permits."""
    sheet = json.loads(path(f"esicup/{name}.json").read_text())
    return Strip(
        width=sheet["strip_width"],
        items=tuple(
            StripItem(
                name=piece["id"],
                outline=np.array(piece["polygon"], dtype=np.float64),
                quantity=piece["quantity"],
                turns_deg=turns_deg or tuple(piece["angles"]),
            )
            for piece in sheet["pieces"]
        ),
    )
