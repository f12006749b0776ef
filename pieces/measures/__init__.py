"""Lengths, prices and papers as people write and print them; the one room that knows inches."""
