"""How much room words take on paper, so that none runs into another.

No font is at hand where this is asked, and which one a sheet is shown in is the reader's matter. A letter is therefore
taken by how wide its sort is in common sans-serif faces, rather more than less.
"""

from ..units import SAME

#: Inches of one point of type (ISO and the trade alike: 72 to the inch).
POINT = 1 / 72
#: The smallest type on a handout, in points: common practice, no published source.
SMALLEST = 9
#: From one line of type to the next, in sizes of the type.
LEADING = 1.25

_NARROW = frozenset("iljtfrI.,:;'’‘|!()[]/ ·-")
_WIDE = frozenset("mwMWQ@%—…&½¼¾⅛⅜⅝⅞⅓⅔")
#: From here on letters are as wide as they are high: those of Japanese, Chinese and Korean (Unicode, U+2E80 and up).
_FULL = "\u2e80"
#: Of the size of the type: narrow letters, others, capitals, wide ones.
_SHARES = {"narrow": 0.36, "small": 0.58, "capital": 0.76, "wide": 1.0}


def width_of(text: str, size: float) -> float:
    """About how wide a line of text is, in inches; `size` is that of the type in points.

    >>> round(width_of("4 in", 9), 3), round(width_of("布", 9), 3)
    (0.235, 0.125)
    """
    return sum(_share(letter) for letter in text) * size * POINT


def _share(letter: str) -> float:
    if letter >= _FULL:
        return 1.0
    if letter in _NARROW:
        return _SHARES["narrow"]
    if letter in _WIDE:
        return _SHARES["wide"]
    return _SHARES["capital" if letter.isupper() else "small"]


def wrapped(text: str, size: float, room: float) -> list[str]:
    """The text in lines that are no wider than `room` inches; a word that is wider alone is broken.

    >>> wrapped("Strips along the selvage", 9, 1.2)
    ['Strips along the', 'selvage']
    >>> wrapped("", 9, 1.2)
    []
    """
    lines: list[str] = []
    for word in _words(text, size, room):
        whole = lines[-1] + word if lines else ""
        if lines and width_of(whole.rstrip(" "), size) <= room + SAME:
            lines[-1] = whole
        else:
            lines.append(word.lstrip(" "))
    return [line.rstrip(" ") for line in lines if line.strip(" ")]


def _words(text: str, size: float, room: float) -> list[str]:
    """What may stand on a line of its own, the blank behind it included: a word, or a letter as wide as it is high."""
    found: list[str] = []
    for letter in text:
        begins = not found or found[-1].endswith(" ") or max(letter, found[-1][-1]) >= _FULL
        too_wide = found and width_of(found[-1] + letter, size) > room
        if begins or (too_wide and letter != " "):
            found.append(letter)
        else:
            found[-1] += letter
    return found


def height_of(lines: int, size: float) -> float:
    """How high so many lines of type are, in inches.

    >>> height_of(2, 9)
    0.3125
    """
    return lines * size * LEADING * POINT
