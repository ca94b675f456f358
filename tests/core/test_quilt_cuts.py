"""Cut sizes of whole quilts, against Shapely's mitred buffer of every finished outline in the drawing."""

import itertools
import math
from collections import Counter, defaultdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon, box
from shapely.ops import split

from matside import answer
from matside.fields import Fields
from matside.pieces import read_piece

#: Drawings are rounded at the sixth decimal of an inch, which a perimeter of 200 in turns into this many square inches.
DRAWN = 1e-3
QUILTS = {
    "grid filled": {},
    "grid lying": {"orientation": "lying"},
    "grid 45": {"piece": {"size": 3, "angle": 45}, "seam": "1 cm"},
    "grid 90": {"piece": {"size": 3, "angle": 90}},
    "grid sashed": {"sashing": {"width": 1}},
    "grid sashed lying": {"sashing": {"width": 1}, "orientation": "lying"},
    "grid cornerstones": {"sashing": {"width": "7.5 mm", "style": "cornerstones"}},
    "grid pointed sashed": {"edge": "pointed", "sashing": {"width": 1}},
    "grid trimmed sashed": {"edge": "trimmed", "sashing": {"width": 1}, "orientation": "lying"},
    "zigzag": {"setting": "zigzag"},
    "zigzag lying": {"setting": "zigzag", "orientation": "lying", "piece": {"size": 3, "angle": 40}},
    "zigzag sashed": {"setting": "zigzag", "sashing": {"width": 1}},
    "hexagons": {"setting": "hexagons"},
    "stars": {"setting": "stars", "orientation": "lying"},
    "stars with hexagons": {"setting": "stars", "joined_by": "hexagons"},
    "eight pointed": {"setting": "eight_pointed", "piece": {"size": 3, "angle": 45}, "sashing": {"width": 1}},
    "borders": {"borders": [{"width": 1}, {"width": 4, "corners": "mitered"}]},
}


def quilt(**fields):
    found = answer({"ask": "quilt", "piece": {"size": 4, "angle": 60}, "columns": 3, "rows": 4, **fields})
    assert found["ok"], found["error"]
    return found


def finished_by_kind(found):
    drawing = found["drawing"]
    outlines = defaultdict(list)
    for kind, _, shape, *_ in drawing["pieces"]:
        outlines[drawing["kinds"][kind]].append(Polygon(drawing["shapes"][shape]))
    return outlines


def area_with_seam(outline, seam):
    return outline.buffer(seam, join_style="mitre", mitre_limit=50).area


def area_of(entry):
    """Area of a cut piece: of a right-angled triangle, and of a strip with slanted ends, what
    is left of its rectangle.
    """
    if "triangle" in entry:
        return entry["triangle"]["across"] * entry["triangle"]["down"] / 2
    if "exact" in entry:
        # Cut longer at both ends, which come off at 45° when the corner is sewn.
        entry = {**entry, "length": entry["exact"], "ends": [45, 45]}
    piece = read_piece(Fields(entry))
    slants = [1 / math.tan(math.radians(end)) if end < 90 else 0.0 for end in entry.get("ends", [])]
    return piece.area - sum(slants) * float(piece.size) ** 2 / 2


@pytest.mark.parametrize("name", QUILTS)
def test_every_cut_is_its_finished_outline_with_the_seam_allowance_on(name):
    found = quilt(**QUILTS[name])
    seam = found["piece"]["seam"]
    wanted, given = defaultdict(list), defaultdict(list)
    for kind, outlines in finished_by_kind(found).items():
        wanted[kind] = sorted(area_with_seam(outline, seam) for outline in outlines)
    for entry in found["cut"]:
        given[entry["kind"]] += [area_of(entry)] * entry["count"]
    assert wanted.keys() == given.keys()
    for kind in wanted:
        assert sorted(given[kind]) == pytest.approx(wanted[kind], abs=DRAWN), kind


@pytest.mark.parametrize("name", QUILTS)
def test_pieces_cuts_and_fabrics_count_the_same(name):
    found = quilt(**QUILTS[name])
    by_cut, by_fabric = Counter(), Counter()
    for entry in found["cut"]:
        by_cut[entry["kind"]] += entry["count"]
    for fabric in found["fabrics"]:
        by_fabric.update(fabric["pieces"])
    assert found["pieces"] == dict(by_cut) == dict(by_fabric)
    assert len({entry["id"] for entry in found["cut"]}) == len(found["cut"])


@pytest.mark.parametrize("name", QUILTS)
def test_every_cut_is_a_piece_that_other_asks_take(name):
    for entry in quilt(**QUILTS[name])["cut"]:
        assert answer({"ask": "strip", "piece": entry, "length": 400})["ok"], entry


def test_corner_quarters_come_in_pairs_from_rectangles_cut_along_both_diagonals():
    corner = next(entry for entry in quilt()["cut"] if entry["kind"] == "corner_quarter")
    assert (corner["shape"], corner["need"], corner["count"], corner["each_way"]) == ("rectangle", 2, 4, [1, 1])
    assert (corner["size"], corner["length"]) == (corner["triangle"]["across"], corner["triangle"]["down"])


@pytest.mark.parametrize("orientation", ["standing", "lying"])
@pytest.mark.parametrize("angle", [30, 60])
def test_parallelograms_lean_as_they_are_drawn(orientation, angle):
    # In the style "strips" all short ones lean one way and all long ones the other.
    found = quilt(piece={"size": 4, "angle": angle}, edge="pointed", sashing={"width": 1}, orientation=orientation)
    drawing = found["drawing"]
    pieces = [(drawing["kinds"][kind], drawing["shapes"][shape]) for kind, _, shape, *_ in drawing["pieces"]]
    drawn = {(kind, leans_to_the_left(outline)) for kind, outline in pieces if kind != "diamond"}
    cut = {(entry["kind"], entry["mirrored"]) for entry in found["cut"] if entry["kind"] != "diamond"}
    assert cut == drawn and len(cut) == 2


def test_with_cornerstones_the_strips_lean_both_ways():
    found = quilt(sashing={"width": 1, "style": "cornerstones"})
    strips = [(entry["mirrored"], entry["need"]) for entry in found["cut"] if entry["kind"] == "sash"]
    assert sorted(strips) == [(False, 24), (True, 24)]


def long_side(outline):
    return max(zip(outline, outline[1:] + outline[:1], strict=True), key=lambda side: math.dist(*side))


def leans_to_the_left(outline):
    """Turns the piece so that a long side lies level below, and sees which way the other one is set off."""
    (x, y), (u, v) = long_side(outline)
    turn = math.atan2(v - y, u - x)
    cos, sin = math.cos(turn), math.sin(turn)
    level = [(cos * (p - x) + sin * (q - y), sin * (p - x) - cos * (q - y)) for p, q in outline]
    low, high = sorted(level, key=lambda point: point[1])[:2], sorted(level, key=lambda point: point[1])[2:]
    return sum(point[0] for point in high) < sum(point[0] for point in low)


def test_custom_additions_stand_beside_the_exact_ones():
    # FACTS, outside values, "arithmetic": half-square 0.8536 (custom ⅞), quarter-square 1.2071 (custom 1¼).
    on_point = {
        entry["kind"]: entry["custom"] for entry in quilt(piece={"size": 4, "angle": 90})["cut"] if "custom" in entry
    }
    assert round(on_point["corner_quarter"]["exactly"], 4) == 0.8536 and on_point["corner_quarter"]["adds"] == 0.875
    assert round(on_point["side_half"]["exactly"], 4) == 1.2071 and on_point["side_half"]["adds"] == 1.25
    assert quilt(piece={"size": 4, "angle": 90}, seam="1 cm")["cut"] != []
    assert not any("custom" in entry for entry in quilt(piece={"size": 4, "angle": 90}, seam="1 cm")["cut"])


CUSTOMARY = {
    "grid": ({"piece": {"size": 4, "angle": 90}}, {"corner_quarter": 2, "side_half": 4, "end_half": 4}),
    "blocks": ({"setting": "eight_pointed", "piece": {"size": 3, "angle": 45}}, {"side_triangle": 4}),
}


@pytest.mark.parametrize("name", CUSTOMARY)
def test_the_customary_squares_cut_from_corner_to_corner_give_the_triangles(name):
    fields, gives = CUSTOMARY[name]
    entries = {entry["kind"]: entry for entry in quilt(**fields)["cut"] if "custom" in entry}
    assert {kind: entry["custom"]["gives"] for kind, entry in entries.items()} == gives
    for entry in entries.values():
        custom, side = entry["custom"], entry["custom"]["cut"]
        diagonals = [LineString([(0, 0), (side, side)]), LineString([(side, 0), (0, side)])]
        parts = [box(0, 0, side, side)]
        for line in diagonals[: {"half_square": 1, "quarter_square": 2}[custom["method"]]]:
            parts = [half for part in parts for half in split(part, line).geoms]
        assert len(parts) == custom["gives"]
        assert custom["squares"] == math.ceil(entry["count"] / custom["gives"])
        # Alike in form, so that the larger one holds the other: the customary piece is never too small.
        for part in parts:
            assert 0 <= part.area - area_of(entry) < 0.1 * area_of(entry)
            assert max(math.dist(*pair) for pair in itertools.pairwise(part.exterior.coords)) == pytest.approx(
                entry.get("base", 0) - custom["exactly"] + custom["adds"]
                if "base" in entry
                else math.sqrt(2) * (entry["triangle"]["across"] - custom["exactly"] + custom["adds"])
            )


def test_a_finished_piece_is_taken_with_the_quilts_seam():
    assert quilt(piece={"finished_size": "9 cm", "angle": 60}, seam="1 cm")["piece"]["size"] == pytest.approx(11 / 2.54)


@given(st.integers(15, 90), st.integers(4, 40), st.sampled_from(["1/4 in", "1 cm", "7.5 mm", 0]), st.booleans())
@settings(max_examples=20, derandomize=True, deadline=None)
def test_any_filled_grid_is_cut_as_its_finished_outlines_ask(angle, quarters, seam, lying):
    size = quarters / 4 + 0.75
    found = quilt(
        piece={"size": size, "angle": angle}, seam=seam, columns=2, rows=2, orientation="lying" if lying else "standing"
    )
    areas = {
        kind: area_with_seam(outlines[0], found["piece"]["seam"]) for kind, outlines in finished_by_kind(found).items()
    }
    assert {entry["kind"]: area_of(entry) for entry in found["cut"]} == pytest.approx(areas, abs=DRAWN, rel=1e-5)
