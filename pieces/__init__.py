"""What is cut: outlines with grainline and marks, patterns of them, and the ways they come in."""
