"""Letters of other alphabets that look like Latin ones, typed or pasted into a Latin word.

The pairs are those of Unicode Technical Standard 39, ``confusables.txt``, that look the same in
common typefaces.
"""

from __future__ import annotations

import re

_CYRILLIC = ("авсеіјкморѕтухԁһԛԝАВСЕІЈКМНОРЅТУХ", "abceijkmopstyxdhqwABCEIJKMHOPSTYX")
_GREEK = ("ονιΑΒΕΖΗΙΚΜΝΟΡΤΥΧ", "oviABEZHIKMNOPTYX")
_LOOK = str.maketrans(_CYRILLIC[0] + _GREEK[0], _CYRILLIC[1] + _GREEK[1])
_WORD = re.compile(r"[^\W\d_]+")
_LATIN = re.compile(r"[A-Za-z]")


def in_latin(text: str) -> str:
    """The text with look-alike letters made Latin in words that are Latin otherwise.

    A word wholly in another alphabet is left as it is.

    >>> in_latin("B\\u0430se stone") == "Base stone"
    True
    >>> in_latin("Щебень") == "Щебень"
    True
    """
    if text.isascii():
        return text
    return _WORD.sub(lambda word: _one(word[0]), text)


def _one(word: str) -> str:
    if word.isascii() or not _LATIN.search(word):
        return word
    plain = word.translate(_LOOK)
    return plain if plain.isascii() else word
