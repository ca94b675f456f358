"""Where a print's head lies, found a second way: each piece as it lies on its strip is laid, turned, on its place in
the quilt, by Shapely, and the strip turns with it."""

import math

import pytest
from shapely import affinity
from shapely.geometry import Polygon

from matside import answer
from matside.fields import Fields
from matside.pieces import read_piece

DRAWN = 1e-3  # as in test_quilt_leans: drawings are rounded
SEAM = 0.25
STRIPS = ("lengthwise", "crosswise")


def quilt(**fields):
    base = {"piece": {"size": 4, "angle": 60}, "columns": 3, "rows": 4, "edge": "filled", "fabrics": [{"id": "a"}]}
    found = answer({"ask": "quilt", **base, **fields})
    assert found["ok"], found["error"]
    return found


def as_on_the_strip(entry):
    """Outlines of a piece as they lie on their strip (its edges level, right side up), and half a turn of each."""
    if "triangle" in entry:
        long, short = float(entry["length"]), float(entry["size"])
        corners = [(0, 0), (long, 0), (long, short), (0, short)]
        found = [Polygon(corners[:k] + corners[k + 1 :]) for k in range(4)]  # halves along either diagonal
    elif "ends" in entry:
        high, long = float(entry["size"]), float(entry["length"])
        left, right = (high / math.tan(math.radians(end)) for end in entry["ends"])
        far = [(long, high), (left, high)] if entry["parallel"] else [(long - right, high), (left, high)]
        found = [Polygon([(0, 0), (long - left if entry["parallel"] else long, 0), *far])]
    else:
        found = [Polygon(read_piece(Fields(entry)).outline())]
    if entry.get("mirrored"):
        found = [affinity.scale(one, -1, 1, origin=(0, 0)) for one in found]
    return [affinity.rotate(one, half, origin=(0, 0)) for one in found for half in (0, 180)]


def bearings(outline):
    ring = list((outline if outline.exterior.is_ccw else outline.reverse()).exterior.coords)
    return [math.degrees(math.atan2(v - y, u - x)) for (x, y), (u, v) in zip(ring, ring[1:], strict=False)]


def lies(piece, place, turn):
    turned = affinity.rotate(piece, turn, origin="centroid")
    there = affinity.translate(turned, place.centroid.x - turned.centroid.x, place.centroid.y - turned.centroid.y)
    return there.symmetric_difference(place).area < DRAWN * max(1, place.length / 10)


def turns_onto(entry, place):
    """Every angle (anticlockwise) by which the strip may be turned so that its piece lies on the place."""
    found = set()
    for cut in as_on_the_strip(entry):
        piece = cut.buffer(-SEAM, join_style="mitre", mitre_limit=50)
        for to in bearings(place):
            turn = to - bearings(piece)[0]
            if lies(piece, place, turn):
                found |= {round(turn) % 360, round(turn + 180) % 360} if "triangle" in entry else {round(turn) % 360}
    return found


def heads_possible(entry, place, strips):
    """The angles that a head may have, clockwise from the upper edge; it points along a lengthwise strip, either way."""
    ahead = 0 if strips == "lengthwise" else 90
    return {(90 - turn - ahead + half) % 360 for turn in turns_onto(entry, place) for half in (0, 180)}


def placed(found):
    """Each kind, shape and its heads once; y running up."""
    drawing = found["drawing"]
    for kind, shape in sorted({(piece[0], piece[2]) for piece in drawing["pieces"]}):
        outline = Polygon([(x, -y) for x, y in drawing["shapes"][shape]])
        yield drawing["kinds"][kind], outline, drawing["heads"][shape]


@pytest.mark.every(2)
@pytest.mark.parametrize("orientation", ["standing", "lying"])
@pytest.mark.parametrize(
    "fields",
    [
        *({"piece": {"size": 4, "angle": angle}} for angle in (30, 45, 60, 75, 90)),
        {"edge": "trimmed"},
        {"edge": "pointed", "sashing": {"width": 1}},
        {"sashing": {"width": 1}},
        {"piece": {"size": 4, "angle": 45}, "sashing": {"width": 1, "style": "cornerstones"}},
        {"setting": "zigzag", "piece": {"size": 4, "angle": 45}, "sashing": {"width": 2}},
        *({"setting": "zigzag", "piece": {"size": 4, "angle": angle}} for angle in (30, 60)),
        {"setting": "hexagons"},
        {"setting": "stars"},
        {"setting": "stars", "joined_by": "hexagons"},
        {"setting": "eight_pointed", "piece": {"size": 4, "angle": 45}, "sashing": {"width": 2}},
    ],
    ids=str,
)
def test_the_head_lies_as_the_strip_that_the_piece_is_turned_from(fields, orientation):
    borders = [] if fields.get("edge") == "pointed" else [{"width": 3}]
    found = quilt(orientation=orientation, borders=borders, **fields)
    for kind, place, heads in placed(found):
        entries = [entry for entry in found["cut"] if entry["kind"] == kind]
        for strips, head in zip(STRIPS, heads, strict=True):
            possible = {one for entry in entries for one in heads_possible(entry, place, strips)}
            assert possible, kind
            assert any(min((head - one) % 360, (one - head) % 360) < 1 for one in possible), (kind, head, possible)
            assert -90 < head <= 90


@pytest.mark.parametrize(("orientation", "head"), [("standing", 90), ("lying", 0)])
@pytest.mark.parametrize("angle", [45, 60, 75])
def test_zigzag_diamonds_have_their_strips_along_the_rows(angle, orientation, head):
    found = quilt(setting="zigzag", piece={"size": 4, "angle": angle}, orientation=orientation)
    assert {heads[0] for kind, _, heads in placed(found) if kind == "diamond"} == {head}


def test_the_diamonds_of_a_star_lie_three_ways_and_squares_stand():
    star = {heads[0] for kind, _, heads in placed(quilt(setting="stars")) if kind == "diamond"}
    assert star == {30, -30, 90}
    blocks = quilt(setting="eight_pointed", piece={"size": 4, "angle": 45})
    assert {tuple(heads) for kind, _, heads in placed(blocks) if kind == "square"} == {(0, 0)}


@pytest.mark.parametrize(
    ("grain", "sides", "ends"),
    [("any", (0, 90), (90, 0)), ("lengthwise", (0, 0), (90, 90)), ("crosswise", (90, 90), (0, 0))],
)
@pytest.mark.parametrize("corners", ["butted", "mitered"])
def test_a_border_has_the_grain_that_was_chosen(grain, sides, ends, corners):
    found = quilt(borders=[{"width": 3, "grain": grain, "corners": corners}])
    heads = {kind: tuple(heads) for kind, _, heads in placed(found) if kind.startswith("border")}
    assert heads == {"border_side": sides, "border_end": ends}


def test_a_binding_on_the_bias_has_its_print_askew():
    bias, straight = (quilt(binding={"grain": grain}) for grain in ("bias", "straight"))
    assert {abs(head) for kind, _, heads in placed(bias) if kind == "binding" for head in heads} == {45}
    assert {tuple(heads) for kind, _, heads in placed(straight) if kind == "binding"} == {(0, 90), (90, 0)}


def test_a_print_that_runs_one_way_is_cut_along_the_selvage_and_its_pieces_are_counted_as_they_stand():
    found = quilt(setting="stars", fabrics=[{"id": "a", "one_way": True}, {"id": "b"}])
    one_way, other = found["fabrics"]
    assert (one_way["strips"], other["strips"]) == ("lengthwise", "crosswise") and "standing" not in other
    stood = {False: 0, True: 0}
    for _, fabric, shape, *_ in found["drawing"]["pieces"]:
        if fabric == 0:
            stood[abs(found["drawing"]["heads"][shape][0]) <= 45] += 1
    assert one_way["standing"] == {"stand": stood[True], "lie": stood[False], "head_down": 0}
    assert stood[False] > 0 < stood[True]


def test_triangles_that_all_point_one_way_stand_on_their_heads_by_halves():
    """A strip gives triangles pointing either way by turns: seven at one side take three that are turned."""
    plain = quilt(columns=3, rows=8)
    left = [
        number
        for number, (kind, _, _, x, *_) in enumerate(plain["drawing"]["pieces"])
        if plain["drawing"]["kinds"][kind] == "side_half" and x < plain["drawing"]["width"] / 2
    ]
    assert len(left) == 7
    colouring = {"way": "single", "fabrics": ["a"], "changes": [[number, "b"] for number in left]}
    found = quilt(columns=3, rows=8, fabrics=[{"id": "a"}, {"id": "b", "one_way": True}], colouring=colouring)
    assert found["fabrics"][1]["standing"] == {"stand": 4, "lie": 0, "head_down": 3}


def test_what_is_no_tick_is_refused():
    found = answer(
        {
            "ask": "quilt",
            "piece": {"size": 4, "angle": 60},
            "columns": 2,
            "rows": 2,
            "fabrics": [{"id": "a", "one_way": "yes"}],
        }
    )
    assert found["error"]["field"] == "fabrics[0].one_way"
