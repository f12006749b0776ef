"""What goes into which stretch, in which poses, what a repeat demands, and how short it can be."""
