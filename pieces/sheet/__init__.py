"""The pattern sheet: read, checked, written, and its pieces made from measures."""
