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


# --- The grain along the quilt's edge -------------------------------------------------------------------------------


def strip_edge_outside(found, place, sides, wrong_side_up):
    """Whether a cut diamond, turned onto its place, has an edge of its strip along each outside edge of the place."""
    entry = next(entry for entry in found["cut"] if entry["kind"] == "diamond")
    piece = finished(cut_of({**entry, "mirrored": wrong_side_up}), 0.25)
    turns = [bearing(place, k) - bearing(piece, 0) for k in range(4)]
    # As cut its strip's edges lie level; turned, they lie along the turn itself.
    ways = [turn for turn in turns if _same(piece, place, turn)]
    assert ways
    return any(all(abs(math.sin(math.radians(turn - side))) < 1e-4 for side in sides) for turn in ways)


def outside_diamonds(found):
    """Whole diamonds with an edge on the outside, each with the directions of those edges, y running up."""
    drawing = found["drawing"]
    for kind, _, shape, x, y, *_ in drawing["pieces"]:
        if drawing["kinds"][kind] != "diamond":
            continue
        outline = [(a + x, b + y) for a, b in drawing["shapes"][shape]]
        sides = []
        for (a, b), (c, d) in zip(outline, outline[1:] + outline[:1], strict=True):
            for one, other, end in ((a, c, drawing["width"]), (b, d, drawing["height"])):
                if any(abs(one - at) < 1e-4 and abs(other - at) < 1e-4 for at in (0, end)):
                    sides.append(math.degrees(math.atan2(b - d, c - a)))
        if sides:
            yield Polygon([(a, -b) for a, b in outline]), sides


@pytest.mark.parametrize("orientation", ORIENTATIONS)
@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"setting": "hexagons"},
        {"setting": "stars"},
        {"setting": "stars", "joined_by": "hexagons"},
        {"setting": "eight_pointed", "piece": {"size": 3, "angle": 45}},
    ],
    ids=str,
)
@pytest.mark.parametrize("columns", [3, 4])
def test_diamonds_along_the_edge_are_cut_so_that_their_strip_edge_lies_outward(columns, fields, orientation):
    found = quilt(columns=columns, orientation=orientation, **fields)
    outside = list(outside_diamonds(found))
    as_cut = sum(strip_edge_outside(found, place, sides, wrong_side_up=False) for place, sides in outside)
    turned_over = sum(strip_edge_outside(found, place, sides, wrong_side_up=True) for place, sides in outside)
    assert as_cut + turned_over == len(outside), "each lies rightly in just one of the two ways"
    leans = {"diamonds": len(outside), "wrong_side_up": turned_over} if outside else None
    assert found["sewing"]["edge_leans"] == leans
    assert found["sewing"]["outer_edge"] == ("straight_outward" if outside else "straight")


def test_half_of_the_whole_diamonds_along_a_small_edge_of_hexagons_lean_the_other_way():
    found = quilt(setting="hexagons", columns=3, rows=3)
    assert found["sewing"]["edge_leans"] == {"diamonds": 6, "wrong_side_up": 3}


def outer_edges(found):
    """Edges that no other piece has, each with its diamond."""
    drawing, found_edges = found["drawing"], {}
    for _, _, shape, x, y, *_ in drawing["pieces"]:
        outline = [(a + x, b + y) for a, b in drawing["shapes"][shape]]
        for (a, b), (c, d) in zip(outline, outline[1:] + outline[:1], strict=True):
            place = (round((a + c) / 2, 3), round((b + d) / 2, 3))
            found_edges.setdefault(place, []).append((Polygon([(p, -q) for p, q in outline]), (c - a, b - d)))
    return [edges[0] for edges in found_edges.values() if len(edges) == 1]


@pytest.mark.parametrize("orientation", ORIENTATIONS)
@pytest.mark.parametrize("setting", ["grid", "hexagons", "stars"])
def test_half_of_the_edges_that_are_left_pointed_are_on_the_bias(setting, orientation):
    found = quilt(setting=setting, edge="pointed", orientation=orientation)
    edges = [
        strip_edge_outside(found, place, [math.degrees(math.atan2(y, x))], wrong_side_up=False)
        for place, (x, y) in outer_edges(found)
    ]
    assert sum(edges) * 2 == len(edges) and found["sewing"]["outer_edge"] == "half_bias"


@pytest.mark.parametrize("orientation", ORIENTATIONS)
def test_pointed_zigzag_is_on_the_grain_along_its_rows_and_on_the_bias_at_their_ends(orientation):
    found = quilt(setting="zigzag", edge="pointed", orientation=orientation)
    along = (0, 1) if orientation == "lying" else (1, 0)
    for place, (x, y) in outer_edges(found):
        level = abs(x * along[1] - y * along[0]) < 1e-4
        fits = [
            strip_edge_outside(found, place, [math.degrees(math.atan2(y, x))], way)
            and along_the_row(
                finished(cut_of({**found["cut"][0], "mirrored": way}), 0.25), place, orientation == "lying"
            )
            for way in (False, True)
        ]
        assert any(fits) == level, "an outer edge is a strip edge of a diamond laid along its row, or a row's end"
    assert found["sewing"]["outer_edge"] == "rows_straight_ends_bias"


def test_the_grain_is_promised_only_where_pieces_are_laid_for_it():
    def outer(edge, **fields):
        return quilt(edge=edge, **fields)["sewing"]["outer_edge"]

    upright = {"piece": {"size": 4, "angle": 90}}
    # Squares standing on a corner are cut through slantwise where they are trimmed, and have no bias edge elsewhere.
    assert [outer(edge, **upright) for edge in ("pointed", "trimmed", "filled")] == ["straight", "bias", "straight"]
    assert {outer(edge, setting="zigzag", **upright) for edge in ("pointed", "trimmed", "filled")} == {"straight"}
    # A cut across a zigzag row runs square to its diamonds' strip edges: along the other grain.
    assert outer("trimmed", setting="zigzag") == outer("filled", setting="zigzag") == "straight_along_rows"
    assert [outer("trimmed", setting=setting) for setting in ("grid", "hexagons", "stars")] == ["bias"] * 3


# --- Sashing --------------------------------------------------------------------------------------------------------


@pytest.mark.every(3)
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


# --- Rectangles that are halved, mitered borders ---------------------------------------------------------------------


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


def test_mitered_borders_end_alike_and_lean_neither_way():
    # They are cut square and longer, and lose their ends at 45° once they are sewn.
    found = quilt(borders=[{"width": 4, "corners": "mitered"}])
    for entry in (entry for entry in found["cut"] if entry["kind"].startswith("border")):
        assert "ends" not in entry and "mirrored" not in entry
        trimmed = {**entry, "length": entry["exact"], "ends": [45, 45], "parallel": False, "mirrored": False}
        assert all(turned_onto(finished(strip_of(trimmed), 0.25), place) for _, place in drawn(found, entry["kind"]))
