"""Where things lie before the cutter: left, right, top (away from the body) and bottom (near the body)."""

from enum import StrEnum

_ROUND = ("left", "top", "right", "bottom")  # clockwise


class Place(StrEnum):
    """A side of what lies on the mat, as the cutter sees it."""

    LEFT = "left"
    TOP = "top"
    RIGHT = "right"
    BOTTOM = "bottom"

    def turned(self, quarters: int) -> "Place":
        """Where it lies after so many quarter turns clockwise.

        >>> Place.LEFT.turned(1), Place.LEFT.turned(-1), Place.TOP.turned(2)
        (<Place.TOP: 'top'>, <Place.BOTTOM: 'bottom'>, <Place.BOTTOM: 'bottom'>)
        """
        return Place(_ROUND[(_ROUND.index(self) + quarters) % 4])

    @property
    def mirrored(self) -> "Place":
        """Where it lies for the other hand."""
        return self if self in (Place.TOP, Place.BOTTOM) else self.turned(2)


class Turn(StrEnum):
    """A quarter turn of what lies on the mat."""

    CLOCKWISE = "clockwise"
    ANTICLOCKWISE = "anticlockwise"

    @property
    def quarters(self) -> int:
        """Quarter turns clockwise."""
        return 1 if self is Turn.CLOCKWISE else -1

    @property
    def mirrored(self) -> "Turn":
        """The turn for the other hand."""
        return Turn.ANTICLOCKWISE if self is Turn.CLOCKWISE else Turn.CLOCKWISE


class Corner(StrEnum):
    """A corner of what lies on the mat."""

    LOWER_LEFT = "lower_left"
    LOWER_RIGHT = "lower_right"
    UPPER_LEFT = "upper_left"
    UPPER_RIGHT = "upper_right"

    @property
    def mirrored(self) -> "Corner":
        """The corner for the other hand."""
        upper, _, side = self.partition("_")
        return Corner(f"{upper}_{'right' if side == 'left' else 'left'}")


def for_hand(values: dict, hand: str) -> dict:
    """Values of a sentence as that hand needs them; they are worked out for the right hand.

    >>> for_hand({"at": Place.LEFT, "k": 2}, "left")
    {'at': 'right', 'k': 2}
    """
    return {name: _for_hand(value, hand) for name, value in values.items()}


def _for_hand(value, hand: str):
    if not isinstance(value, (Place, Turn, Corner)):
        return value
    return str(value.mirrored if hand == "left" else value)
