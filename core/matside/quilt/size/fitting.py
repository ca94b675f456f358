"""How many columns and rows a wanted size takes, and how large so many pieces come out."""

import math
from dataclasses import dataclass

from ...errors import Refusal
from ...units import SAME
from ..settings.setting import Setting

FITS = ("at_least", "nearest", "at_most")


@dataclass(frozen=True, slots=True)
class Target:
    """A wanted finished width and height of the patchwork, in inches, with the fields they came from."""

    width: float
    height: float
    fields: tuple[str, str] = ("target.width", "target.height")

    def turned(self) -> "Target":
        """Width and height swapped, fields and all."""
        return Target(self.height, self.width, self.fields[::-1])


def steps_for(setting: Setting, edge: str, target: Target, fit: str = "at_least") -> tuple[int, int]:
    """Columns and rows whose finished size is at least, nearest to, or at most the target.

    At least one of each; refused when the target is smaller than one.

    >>> from ..settings.grid import grid
    >>> steps_for(grid(3.5, 60), "filled", Target(50, 65))
    (13, 10)
    """
    refuse_below_one(setting, edge, target)
    beyond = setting.extent(edge).beyond
    return tuple(
        _steps(wanted, beyond[k], setting.step[k], fit) for k, wanted in enumerate((target.width, target.height))
    )


def refuse_below_one(setting: Setting, edge: str, target: Target) -> None:
    """Refuses a target that is smaller than one column or one row."""
    for wanted, least, field in zip(
        (target.width, target.height), setting.finished(edge, 1, 1), target.fields, strict=True
    ):
        if wanted < least - SAME:
            raise Refusal(field, "target_below_one", given=wanted, least=round(least, 2))


def _steps(wanted: float, beyond: float, step: float, fit: str) -> int:
    exact = (wanted - beyond) / step
    rounded = {
        "at_least": math.ceil(exact - SAME),
        "nearest": math.floor(exact + 0.5),
        "at_most": math.floor(exact + SAME),
    }
    return max(1, rounded[fit])
