"""Files: read no further than a limit, written all or none."""
