"""Published instances of cutting stock, read as baskets: bins are cloths of a one-way print, items are rectangles.

Strips of such a cloth run along one side only, so that no item is turned, and a cloth is divided once at the most. What
is published has three stages of cuts, in strips of like items as here, but as many parts as there is room for, with
strips either way: whatever a plan makes of an instance, published patterns can make as well."""

import json
from dataclasses import dataclass
from pathlib import Path

_FILE = Path(__file__).resolve().parents[1] / "sources" / "published_cutting.json"
_ALL = json.loads(_FILE.read_text(encoding="utf-8"))
_MANY = 2_000  # bins, more than any instance needs


@dataclass(frozen=True, slots=True)
class Instance:
    """The sides of a bin, items as (length, width, copies), and the best that is known:
    bins, or the area out of one bin.
    """

    sides: tuple[int, int]
    items: tuple[tuple[int, int, int], ...]
    best: int

    @property
    def bin_area(self) -> int:
        return self.sides[0] * self.sides[1]

    @property
    def area(self) -> int:
        """Of all copies of all items."""
        return sum(length * width * copies for length, width, copies in self.items)


def _read(instances: dict) -> dict[str, Instance]:
    return {
        name: Instance(tuple(one["sides"]), tuple(map(tuple, one["items"])), one["best"])
        for name, one in instances.items()
    }


BINS = _read(_ALL["bins"])  # all copies from as few bins as can be
ONE_BIN = _read(_ALL["one_bin"])  # as much area as can be out of one bin


def request(instance: Instance, count: int = _MANY, turned: bool = False) -> dict:
    """The plan to ask for, sides in inches; turned: with strips along the other side of the bin."""
    order = -1 if turned else 1
    along, across = instance.sides[::order]
    pieces = []
    for number, (*sides, copies) in enumerate(instance.items):
        length, size = sides[::order]
        pieces.append({"id": str(number), "shape": "rectangle", "length": length, "size": size, "need": copies})
    cloth = {"id": "bin", "length": along, "width": across, "count": count, "selvage": "length", "one_way": True}
    return {"ask": "plan", "cloths": [cloth], "pieces": pieces}
