"""What is cut and where it lies: cut list, placements, the marker, its measures and its file."""
