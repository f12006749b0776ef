"""The version of the program: written into markers and kept answers."""

__version__ = "0.1.0"
