"""A verifier of plans that shares no code with the search: Shapely and counting only."""

from collections import Counter

from shapely import STRtree, box
from shapely.geometry import Polygon

SLACK = 1e-6  # inches; far below any cut, far above what floats lose on the way


def faults(request: dict, answer: dict, areas: dict[str, float]) -> list[str]:
    """Everything that is wrong with a plan, in words; `areas` gives a piece's area by its id."""
    cloths = {cloth["id"]: cloth for cloth in request["cloths"]}
    pieces = {piece["id"]: piece for piece in request["pieces"]}
    found, made, opened = [], Counter(), Counter()
    for number, layout in enumerate(answer["layouts"]):
        place = f"layout {number}"
        opened[layout["cloth"]] += layout["times"]
        found += _layout_faults(place, layout, cloths[layout["cloth"]], pieces, areas)
        for strip in layout["strips"]:
            made[strip["piece"]] += strip["count"] * layout["times"]
    for name, piece in pieces.items():
        if made[name] != answer["made"][name]:
            found.append(f"{name}: {made[name]} in the layouts, {answer['made'][name]} told")
        if answer["made"][name] + answer["missing"][name] != piece["need"]:
            found.append(f"{name}: made and missing are not the need")
    for name, cloth in cloths.items():
        if opened[name] != answer["opened"][name] or opened[name] > cloth.get("count", 1):
            found.append(f"{name}: {opened[name]} opened, {answer['opened'][name]} told")
    area = sum(cloths[name]["length"] * cloths[name]["width"] * times for name, times in opened.items())
    if abs(area - answer["area_opened"]) > SLACK:
        found.append(f"opened {area}, told {answer['area_opened']}")
    return found


def _layout_faults(place: str, layout: dict, cloth: dict, pieces: dict, areas: dict) -> list[str]:
    outlines = [(strip["piece"], Polygon(outline)) for strip in layout["strips"] for outline in strip["outlines"]]
    whole = box(0, 0, cloth["length"], cloth["width"]).buffer(SLACK)
    found = [f"{place}: a {name} lies outside" for name, outline in outlines if not whole.covers(outline)]
    found += [
        f"{place}: a {name} is {outline.area} large"
        for name, outline in outlines
        if abs(outline.area - areas[name]) > SLACK
    ]
    found += _overlaps(place, [outline for _, outline in outlines])
    for strip in layout["strips"]:
        found += _strip_faults(place, strip, layout, pieces[strip["piece"]])
    return found


def _overlaps(place: str, outlines: list[Polygon]) -> list[str]:
    pairs = STRtree(outlines).query(outlines, predicate="intersects").T if outlines else []
    return [
        f"{place}: pieces {i} and {j} overlap"
        for i, j in pairs
        if i < j and outlines[i].intersection(outlines[j]).area > SLACK
    ]


def _strip_faults(place: str, strip: dict, layout: dict, piece: dict) -> list[str]:
    found = []
    if strip["count"] != len(strip["outlines"]) or strip["count"] < 1:
        found.append(f"{place}: a strip of {strip['count']} has {len(strip['outlines'])} outlines")
    if strip["size"] != piece["size"]:
        found.append(f"{place}: a strip {strip['size']} wide for a piece of {piece['size']}")
    wide, high = (strip["run"], strip["size"]) if strip["along"] == "length" else (strip["size"], strip["run"])
    own = box(strip["x"], strip["y"], strip["x"] + wide, strip["y"] + high).buffer(SLACK)
    if not all(own.covers(Polygon(outline)) for outline in strip["outlines"]):
        found.append(f"{place}: a piece leaves its strip")
    return found + _rule_faults(place, strip, layout, (wide, high))


def _rule_faults(place: str, strip: dict, layout: dict, sides: tuple[float, float]) -> list[str]:
    """A strip lies on one side of the division, and all strips there run the same way."""
    division = layout["division"]
    axis = 0 if division and division["along"] == "length" else 1
    part = _part(strip, division, axis)
    across = [
        other for other in layout["strips"] if _part(other, division, axis) == part and other["along"] != strip["along"]
    ]
    found = [f"{place}: strips of one part run both ways"] if across else []
    start = strip["x"] if axis == 0 else strip["y"]
    if division and start < division["at"] - SLACK and start + sides[axis] > division["at"] + SLACK:
        found.append(f"{place}: a strip crosses the division")
    return found


def _part(strip: dict, division: dict | None, axis: int) -> int:
    start = strip["x"] if axis == 0 else strip["y"]
    return int(bool(division) and start > division["at"] - SLACK)
