"""The yardage chart of a pattern, and the catalogue of many: cells, kept and resumed."""
