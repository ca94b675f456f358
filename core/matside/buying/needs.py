"""What a quilt needs from cloth on hand: its cut list, and strips to be joined for whatever is longer than the cloth.

Every need is a piece as the asks `plan` and `guide` take it. Three kinds of entries are not all done when they are cut:

- rectangles that are `halved` from corner to corner, so many each way: two triangles each;
- strips that are `joined` end to end, from which longer ones are cut: `length` and `need` of these, the angles of their
  `ends` (None: square), whether those are `parallel`, whether the strip is `mirrored` (laid wrong side up for them),
  what each join `takes`, and whether they are `counted` among the quilt's pieces, as a binding is not;
- strips that fit whole and only have slanted `ends`: of them `joined` tells the same, with their own length and need.
"""

from collections.abc import Callable
from dataclasses import dataclass

from ..quilt.cutting import cut_list
from ..quilt.geometry import laid
from ..quilt.layers import layers_of
from ..quilt.reading import Quilt
from .demands import Chain, Demand
from .of_quilt import bound, demand_of
from .strips import Strips, chain, joined_strips

#: What describes a piece in an entry of the cut list.
_PIECE = ("shape", "size", "angle", "cut", "across", "length", "mirrored", "grain")


@dataclass(frozen=True, slots=True)
class Needed:
    """A need as a plan takes it; how many of the quilt's `pieces` come of it, and how many of them each piece cut is.

    `each` is 2 where it is halved, and 0 where it is a strip to be joined. The binding is none of the quilt's pieces.
    """

    need: dict
    pieces: int
    each: int = 1


def needs_of(quilt: Quilt, run_of: Callable[[str, str], float]) -> tuple[list[Needed], list[str]]:
    """Everything that is cut, and the ids of what is not: a bias binding, a binding too long
    for narrow cloth, the backing.

    `run_of` gives the length of the strips of a fabric for pieces on a grain ("any": across the cloth), in inches.
    """
    seam = quilt.geometry.piece.seam
    entries = cut_list(layers_of(quilt, laid(quilt.geometry)), quilt.fabrics, seam)
    needs = [
        _needed(entry, demand_of(entry, seam), run_of(entry["fabric"], entry.get("grain", "any")))
        for entry in entries
        if entry["need"]
    ]
    binding = _binding(quilt, run_of)
    left = (["binding"] if quilt.binding and not binding else []) + (["backing"] if quilt.backing else [])
    return needs + ([binding] if binding else []), left


def _needed(entry: dict, demand: Demand, run: float) -> Needed:
    joined = joined_strips(demand, run)
    if joined:
        return Needed(_of_strips(entry, joined, run, _finish(entry, demand.long, demand.join_takes)), entry["count"], 0)
    piece = {name: entry[name] for name in _PIECE if name in entry and not (name == "mirrored" and "ends" in entry)}
    need = {"id": entry["id"], **piece, "need": entry["need"], "fabric": entry["fabric"]}
    if "each_way" in entry:
        need["halved"] = entry["each_way"]
    if "ends" in entry:
        need["joined"] = _finish(entry, entry["length"], 0.0)
    return Needed(need, entry["count"], demand.each)


def _finish(entry: dict, length, takes: float) -> dict:
    """What is cut from joined strips; a parallelogram's ends are its own angle."""
    own = (entry["angle"],) * 2 if entry["shape"] == "parallelogram" and entry["angle"] < 90 else None
    ends = entry.get("ends", own)
    slanted = {"parallel": entry.get("parallel", True), "mirrored": entry["mirrored"]} if ends else {}
    return {"length": length, "need": entry["need"], "ends": ends, "takes": takes, **slanted}


def _of_strips(entry: dict, strips: Strips, run: float, joined: dict) -> dict:
    strip = {"shape": "rectangle", "size": strips.size, "length": run, "need": strips.times}
    grain = {"grain": entry["grain"]} if "grain" in entry else {}
    return {"id": entry["id"], **strip, **grain, "fabric": entry["fabric"], "joined": joined}


def _binding(quilt: Quilt, run_of: Callable[[str, str], float]) -> Needed | None:
    """The strips of a straight binding; None where there is none, or cloth too narrow to join."""
    demand = bound(quilt) if quilt.binding else None
    if not isinstance(demand, Chain):
        return None
    fabric = quilt.fabrics[quilt.binding.fabric]
    run = run_of(fabric, "any")
    strips = chain(demand, run)
    if not isinstance(strips, Strips):
        return None
    finish = {"length": demand.length, "need": 1, "ends": None, "takes": demand.join_takes, "counted": False}
    return Needed(_of_strips({"id": "binding", "fabric": fabric}, strips, run, finish), 0, 0)
