"""One marker for a class or a cast: mixed sizes, with names, on one bolt."""
