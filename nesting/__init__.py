"""How much cloth to buy, from the pattern pieces themselves."""

__version__ = "0.1.0"
