"""Geometry of one outline: area, turning, curves, and leaving vertices out."""
