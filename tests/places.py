"""Where things of the checkout lie, for tests that read them."""

from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
DEMO = ROOT / "demo"
DOCS = ROOT / "docs"
DATA = ROOT / "tests" / "data"
