"""No lean is lost: every piece as it is drawn is its cut piece turned, never its mirror
image; Shapely turns and compares.
"""

import math
from collections import Counter

import pytest
from shapely import affinity
from shapely.geometry import Polygon

from matside import answer
from matside.fields import Fields
from matside.pieces import read_piece

#: Drawings are rounded at the sixth decimal of an inch; outlines of up to 100 in round differ
#: by no more area than this.
DRAWN = 1e-3
ANGLES = [30, 45, 60, 75]
ORIENTATIONS = ["standing", "lying"]


def quilt(**fields):
    found = answer({"ask": "quilt", "piece": {"size": 4, "angle": 60}, "columns": 3, "rows": 4, **fields})
    assert found["ok"], found["error"]
    return found


def drawn(found, kind):
    """The finished outlines of a kind with their fabric, y running up as the eye takes it."""
    drawing, names = found["drawing"], [fabric["id"] for fabric in found["fabrics"]]
    here = [piece for piece in drawing["pieces"] if drawing["kinds"][piece[0]] == kind]
    return [(names[fabric], Polygon([(x, -y) for x, y in drawing["shapes"][shape]])) for _, fabric, shape, *_ in here]


def mirrored(outline):
    """As it is seen when what was cut wrong side up is turned over."""
    return affinity.scale(outline, -1, 1, origin=(0, 0))


def finished(cut, seam):
    return cut.buffer(-seam, join_style="mitre", mitre_limit=50)


def turned_onto(piece, place):
    """Whether the piece lies on the place turned by some angle: its first side is laid on each of the other's."""
    return any(
        _same(piece, place, bearing(place, k) - bearing(piece, 0)) for k in range(len(place.exterior.coords) - 1)
    )


def _same(piece, place, turn):
    turned = affinity.rotate(piece, turn, origin="centroid")
    there = affinity.translate(turned, place.centroid.x - turned.centroid.x, place.centroid.y - turned.centroid.y)
    return there.symmetric_difference(place).area < DRAWN


def bearing(outline, k):
    """The direction of a side in degrees, the outline run anticlockwise."""
    ring = outline if outline.exterior.is_ccw else outline.reverse()
    (x, y), (u, v) = list(ring.exterior.coords)[k : k + 2]
    return math.degrees(math.atan2(v - y, u - x))


def cut_of(entry):
    """The piece as it comes off its strip, seen from the right side; its strip's edges lie level."""
    piece = Polygon(read_piece(Fields(entry)).outline())
    return mirrored(piece) if entry.get("mirrored") else piece


def strip_of(entry):
    """A strip with slanted ends by the entry's words alone: the longer edge below, the smaller
    angle first, or parallel ends.
    """
    high, long = entry["size"], entry["length"]
    left, right = (high / math.tan(math.radians(end)) for end in entry["ends"])
    if entry["parallel"]:
        outline = Polygon([(0, 0), (long - left, 0), (long, high), (left, high)])
    else:
        outline = Polygon([(0, 0), (long, 0), (long - right, high), (left, high)])
    return mirrored(outline) if entry["mirrored"] else outline


# --- Zigzag ---------------------------------------------------------------------------------------------------------


def along_the_row(piece, place, lying):
    """Whether the piece lies on the place with its strip's edges (level as cut) along the row,
    across the quilt or down it.
    """
    row = 90 if lying else 0
    return any(_same(piece, place, row + half) for half in (0, 180))


@pytest.mark.parametrize("orientation", ORIENTATIONS)
@pytest.mark.parametrize("edge", ["filled", "pointed", "trimmed"])
@pytest.mark.parametrize("angle", ANGLES)
def test_zigzag_diamonds_lie_along_their_rows_as_often_each_way_as_they_are_cut(angle, edge, orientation):
    found = quilt(
        setting="zigzag",
        piece={"size": 4, "angle": angle},
        edge=edge,
        orientation=orientation,
        fabrics=[{"id": "a"}, {"id": "b"}],
    )
    entries = [entry for entry in found["cut"] if entry["kind"] == "diamond"]
    wanted = Counter()
    for fabric, place in drawn(found, "diamond"):
        fitting = [
            entry["id"]
            for entry in entries
            if entry["fabric"] == fabric and along_the_row(finished(cut_of(entry), 0.25), place, orientation == "lying")
        ]
        assert len(fitting) == 1
        wanted[fitting[0]] += 1
    assert wanted == {entry["id"]: entry["need"] for entry in entries}
    assert {entry.get("mirrored", False) for entry in entries} == {False, True}
    assert len({entry["id"] for entry in entries}) == len(entries)


def test_the_other_way_is_half_of_a_zigzag_of_even_rows_and_the_totals_stay():
    found = quilt(setting="zigzag")
    diamonds = [(entry.get("mirrored", False), entry["need"]) for entry in found["cut"] if entry["kind"] == "diamond"]
    assert sorted(diamonds) == [(False, 6), (True, 6)]
    assert found["pieces"]["diamond"] == 12 == sum(fabric["pieces"].get("diamond", 0) for fabric in found["fabrics"])


def test_upright_diamonds_lean_neither_way():
    found = quilt(setting="zigzag", piece={"size": 4, "angle": 90})
    assert [entry.get("mirrored", False) for entry in found["cut"]] == [False]
    assert found["sewing"]["assembly"] == "straight_rows_upright"


@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"setting": "hexagons"},
        {"setting": "stars"},
        {"setting": "eight_pointed", "piece": {"size": 3, "angle": 45}},
    ],
    ids=str,
)
def test_in_every_other_setting_one_diamond_turned_is_all_of_them(fields):
    found = quilt(**fields)
    entry = next(entry for entry in found["cut"] if entry["kind"] == "diamond")
    assert "mirrored" not in entry
    assert all(turned_onto(finished(cut_of(entry), 0.25), place) for _, place in drawn(found, "diamond"))


def test_the_grain_is_promised_only_where_pieces_are_turned_for_it():
    outer = {
        setting: quilt(setting=setting)["sewing"]["outer_edge"] for setting in ("grid", "zigzag", "hexagons", "stars")
    }
    assert outer == {
        "grid": "straight",
        "zigzag": "straight_along_rows",
        "hexagons": "straight_outwards",
        "stars": "straight",
    }


# --- Sashing --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("orientation", ORIENTATIONS)
@pytest.mark.parametrize("edge", ["filled", "pointed", "trimmed"])
@pytest.mark.parametrize("style", ["strips", "cornerstones"])
@pytest.mark.parametrize("angle", ANGLES)
def test_sashing_is_turned_into_its_place_and_never_over(angle, style, edge, orientation):
    fields = {"piece": {"size": 4, "angle": angle}, "edge": edge, "orientation": orientation}
    found = quilt(sashing={"width": 1, "style": style}, **fields)
    for kind in ("sash", "sash_long"):
        entries = [entry for entry in found["cut"] if entry["kind"] == kind]
        cuts = {entry["id"]: finished(strip_of(entry) if "ends" in entry else cut_of(entry), 0.25) for entry in entries}
        lying = Counter()
        for _, place in drawn(found, kind):
            fitting = [name for name, cut in cuts.items() if turned_onto(cut, place)]
            assert len(fitting) == 1, "no cut piece turns into this place, or two do"
            lying[fitting[0]] += 1
        assert lying == {entry["id"]: entry["need"] for entry in entries}


def test_turning_is_not_turning_over():
    # The comparison itself: a leaning strip turned half round fits, its mirror image does not.
    strip = Polygon([(0, 0), (6, 0), (7, 2), (1, 2)])
    assert turned_onto(affinity.rotate(strip, 73), strip) and not turned_onto(mirrored(strip), strip)


# --- Rectangles that are halved, mitred borders ---------------------------------------------------------------------


def halves_of(entry):
    """The triangles of a rectangle lying in its strip, the longer side level, cut along the
    rising and the falling diagonal.
    """
    long, high = entry["length"], entry["size"]
    return Polygon([(0, 0), (long, 0), (long, high)]), Polygon([(0, 0), (long, 0), (0, high)])


@pytest.mark.parametrize("orientation", ORIENTATIONS)
@pytest.mark.parametrize(
    ("kind", "fields"),
    [
        ("corner_quarter", {}),
        ("corner_quarter", {"piece": {"size": 4, "angle": 30}}),
        ("row_end_fill", {"setting": "zigzag"}),
        ("row_end_fill", {"setting": "zigzag", "rows": 3, "sashing": {"width": 1}}),
        ("row_end_fill", {"setting": "zigzag", "rows": 5, "sashing": {"width": 1}, "piece": {"size": 4, "angle": 30}}),
    ],
    ids=str,
)
def test_rectangles_are_halved_as_often_each_way_as_the_triangles_ask(kind, fields, orientation):
    if orientation == "lying" and "rows" in fields:
        fields = {**fields, "columns": fields["rows"], "rows": 3}
    found = quilt(**fields, orientation=orientation)
    (entry,) = [entry for entry in found["cut"] if entry["kind"] == kind]
    rising, falling = (finished(half, 0.25) for half in halves_of(entry))
    places = [place for _, place in drawn(found, kind)]
    ways = [sum(turned_onto(half, place) for place in places) for half in (rising, falling)]
    assert sum(ways) == len(places) == entry["count"], "every triangle is one of the two"
    assert entry["each_way"] == [math.ceil(count / 2) for count in ways] and entry["need"] == sum(entry["each_way"])


def test_mitred_borders_end_alike_and_lean_neither_way():
    found = quilt(borders=[{"width": 4, "corners": "mitred"}])
    for entry in (entry for entry in found["cut"] if entry["kind"].startswith("border")):
        assert (entry["ends"], entry["parallel"], entry["mirrored"]) == ([45, 45], False, False)
        assert all(turned_onto(finished(strip_of(entry), 0.25), place) for _, place in drawn(found, entry["kind"]))
