"""Whether a lay fits on cloth that is owned already, and what would make it fit."""
