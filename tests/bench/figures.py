"""A figure and how it is printed."""

from collections.abc import Iterable
from dataclasses import dataclass
from statistics import median


@dataclass(frozen=True, slots=True)
class Figure:
    """One measured number beside what it is to reach.

    >>> print(Figure("Python ready, ours to stock", 0.2, 0.25))
    Python ready, ours to stock: 0.20 (to reach: at most 0.25)
    """

    what: str
    value: float
    most: float
    unit: str = ""
    detail: str = ""

    def __str__(self) -> str:
        unit = self.unit and f" {self.unit}"
        verdict = "" if self.value <= self.most else "  ** not reached **"
        detail = self.detail and f"\n    {self.detail}"
        return f"{self.what}: {self.value:.2f}{unit} (to reach: at most {self.most:g}{unit}){verdict}{detail}"


def spread(times: Iterable[float]) -> str:
    """The least, the middle and the greatest of some times in milliseconds.

    >>> spread([30.2, 10, 20])
    '10 / 20 / 30 ms'
    """
    ordered = sorted(times)
    return f"{ordered[0]:.0f} / {median(ordered):.0f} / {ordered[-1]:.0f} ms"
