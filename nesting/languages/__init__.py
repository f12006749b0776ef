"""What the program says to people, in their language.

A sentence is written in English where it is said, and marked there; ``messages.pot`` lists them
all, and a ``.po`` file for each other language has their translations. A function that makes
sentences is handed the :class:`Words` to say them with: nothing is remembered between calls.
"""

from nesting.languages.words import ENGLISH, LANGUAGES, Words, marked, words_of

__all__ = ["ENGLISH", "LANGUAGES", "Words", "marked", "words_of"]
