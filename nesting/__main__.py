"""``python -m nesting``: the same as the command ``nesting``."""

import sys

from nesting.cli.app import main

if __name__ == "__main__":
    sys.exit(main())
