"""What lies on a page with templates, as Shapely's polygons: for the tests of templates and of their drawings."""

from shapely import affinity, box, union_all
from shapely.geometry import LineString, Polygon

from matside.handout.texts import height_of
from matside.units import parse_length

#: A tenth of a millimeter, in inches: more than a printer is off, less than a cutter.
TENTH = float(parse_length("0.1 mm", ""))


def outline(template: dict, role: str = "cut") -> Polygon:
    """A template's own outline."""
    return Polygon(template[role])


def text_box(text: dict):
    """The room that a text may take, turned as it is."""
    high = text["size"] / 72
    left = text["x"] - {"start": 0, "middle": text["room"] / 2, "end": text["room"]}[text["anchor"]]
    top = text["y"] - 0.8 * high
    bottom = text["y"] + height_of(text["lines"] - 1, text["size"]) + 0.25 * high
    return affinity.rotate(box(left, top, left + text["room"], bottom), text["turn"], origin=(text["x"], text["y"]))


def laid(page: dict, templates: dict[str, dict]) -> list:
    """What of each template lies on a page: the whole of it, or a tile with all of its window."""
    found = []
    for place in page["placed"]:
        window = affinity.translate(box(*place["window"]), *place["at"])
        whole = place["tile"] is None and not turned(place, templates[place["id"]])
        found.append(affinity.translate(outline(templates[place["id"]]), *place["at"]) if whole else window)
    return found


def turned(place: dict, template: dict) -> bool:
    """Whether a template lies turned by a quarter: its whole window then has its sides swapped."""
    left, top, right, bottom = place["window"]
    wide, high = outline(template).bounds[2:]
    return place["tile"] is None and abs((right - left) - wide) > 1e-6 and abs((bottom - top) - high) > 1e-6


def lines(page: dict, role: str) -> list[LineString]:
    """The lines of one role on a page."""
    return [
        LineString([*shape["points"], *(shape["points"][:1] if shape["closed"] else [])])
        for shape in page["shapes"]
        if shape["role"] == role
    ]


def drawn(page: dict, role: str):
    """All lines of one role together."""
    return union_all(lines(page, role))
