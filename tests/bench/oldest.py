"""Print the oldest versions that pyproject.toml permits, as requirements to install.

Run from the checkout: ``python tests/bench/oldest.py > oldest.txt``. DEVELOPERS.md tells what to do
with them. Not run by pytest.
"""

import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def main() -> None:
    """Print a line for each library, tools for looking at the code apart."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = {*project["dependencies"], *project["optional-dependencies"]["test"]}
    for requirement in sorted(wanted):
        if not requirement.startswith(("mypy", "ruff")):  # they judge by rules of their day
            print(requirement.replace(">=", "=="))


if __name__ == "__main__":
    main()
