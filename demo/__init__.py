"""The invented costume workroom of a small village theatre: four patterns drafted by script."""
