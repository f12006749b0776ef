"""The command ``nesting``: a skin that parses, makes one public call and prints."""
