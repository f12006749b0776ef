"""Shapes made and changed: from measures, with seams, unfolded, longer or shorter."""
