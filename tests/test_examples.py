"""The examples in docstrings give what they show."""

import doctest
import importlib

import pytest

from tests.test_architecture import modules, path_of


@pytest.mark.parametrize("module", [one for one in modules() if ">>>" in path_of(one).read_text()])
def test_examples_in_docstrings_hold(module: str) -> None:
    """Each is run as it stands; modules without any are left out."""
    result = doctest.testmod(importlib.import_module(module))

    assert result.attempted > 0
    assert result.failed == 0
