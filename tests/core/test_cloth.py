"""What one cloth gives: facts of the trade, brute force for the mix of both ways, and Shapely for every layout."""

import json
import math
from fractions import Fraction

import pytest
import shapely
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from amounts import examples
from matside import answer
from matside.cloth import Cloth, best_way, fits, folded_yield, one_more, one_way
from matside.errors import Refusal
from matside.shapes import Diamond, HalfDiamond, Parallelogram, Rectangle
from matside.strips import needed_length

FIXED = settings(
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
    max_examples=examples(20, 4),
)
SIZES = st.integers(8, 80).map(lambda eighths: Fraction(eighths, 8)) | st.integers(25, 250).map(
    lambda mm: Fraction(mm * 10, 254)
)
ANGLES = st.sampled_from((15, 30, 45, 60, 72, 90)).map(Fraction) | st.integers(60, 360).map(
    lambda quarters: Fraction(quarters, 4)
)
SIDES = st.integers(8, 8 * 45).map(lambda eighths: Fraction(eighths, 8)) | st.integers(25, 1100).map(
    lambda mm: Fraction(mm * 10, 254)
)
SHAPES = st.one_of(
    st.builds(Diamond, SIZES, ANGLES),
    st.builds(Diamond, SIZES, ANGLES),
    st.builds(Parallelogram, SIZES, SIZES, ANGLES),
    st.builds(HalfDiamond, SIZES, ANGLES, st.sampled_from(("short", "long"))),
    st.builds(Rectangle, SIZES, SIZES),
)
# Two lengths within 1e-9 in are one to the core; an order of magnitude more leaves room for float noise in Shapely.
NEAR = 1e-8


def diamonds(size, length, width, angle=60) -> dict:
    """The answer for diamonds of a cloth."""
    found = answer(
        {
            "ask": "cloth",
            "piece": {"shape": "diamond", "size": size, "angle": angle},
            "cloth": {"length": length, "width": width},
        }
    )
    assert found["ok"], found
    return found


# --- Facts of the trade -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size, strips, per_strip", [(4, 1, 8), (8, 1, 4)])
def test_one_strip_across_the_full_width(size, strips, per_strip):
    # About 42 in usable: common practice, no published source.
    found = diamonds(size, size, 42)["along_width"]
    assert (found["strips"], found["per_strip"], found["pieces"]) == (strips, per_strip, per_strip)


def test_a_quarter_yard_gives_one_8_inch_strip():
    # Common practice, no published source.
    found = diamonds(8, "1/4 yd", 42)
    assert found["along_width"]["strips"] == 1
    assert found["best"]["pieces"] == 4


@pytest.mark.parametrize(
    "size, along, strips, pieces",
    [
        (8, "width", 2, 2),
        (6, "width", 3, 6),
        (5, "length", 4, 8),
        (4, "width", 4, 12),
        (4, "length", 5, 15),
    ],
)
def test_60_degree_diamonds_from_a_fat_quarter(size, along, strips, pieces):
    # 18 by about 20 in usable, strips the long way (20 in) or across (18 in): common practice, no published source.
    found = diamonds(size, 18, 20)[f"along_{along}"]
    assert (found["strips"], found["pieces"]) == (strips, pieces)


def test_the_way_of_cutting_a_fat_quarter_matters():
    # Common practice, no published source: 15 and not 12 diamonds of 4 in.
    best = diamonds(4, 18, 20)["best"]
    assert best["pieces"] >= 15
    assert diamonds(8, 18, 20)["best"]["pieces"] >= 2


def test_a_narrow_cloth_gives_three_8_inch_diamonds_and_says_how_near_the_fourth_is():
    # Common practice, no published source: four need a little over 41 1/2 in of usable width.
    narrow = diamonds(8, 9, 41.5)["along_width"]
    assert narrow["pieces"] == 3
    assert 0 < narrow["short_by"] < 0.125
    just = diamonds(8, 9, 41.625)["along_width"]
    assert just["pieces"] == 4
    assert just["spare"] == pytest.approx(41.625 - just["needed_length"], abs=NEAR)
    assert "piece" in just["tight"]


# --- Brute force --------------------------------------------------------------------------------------------------


def count_by_laying(shape, along: float, across: float) -> int:
    """Pieces of a rectangle, strip after strip and piece after piece, by nothing but adding up."""
    size, advance = float(shape.size), shape.advance
    strips = pieces = 0
    while (strips + 1) * size <= across + 1e-9:
        strips += 1
    while shape.starter_waste + (pieces + 1) * advance <= along + 1e-9:
        pieces += 1
    return strips * pieces


def critical_positions(shape, side: float) -> list[float]:
    """Everywhere along a side where either part of a division may begin to hold one strip or
    piece more, and a grid of inches.
    """
    size, most = float(shape.size), int(side / min(float(shape.size), shape.advance)) + 1
    ends = [k * size for k in range(most + 1)] + [shape.starter_waste + k * shape.advance for k in range(most + 1)]
    places = {*ends, *(side - end for end in ends), *map(float, range(1, math.ceil(side)))}
    return sorted(place for place in places if 0 < place < side)


def most_by_brute_force(shape, length: float, width: float) -> int:
    """The most pieces that one division, or none, can give: every critical position, both parts cut either way."""
    found = [count_by_laying(shape, length, width), count_by_laying(shape, width, length)]
    for side, other in ((length, width), (width, length)):
        for at in critical_positions(shape, side):
            parts = [(at, other), (side - at, other)]
            found.append(sum(max(count_by_laying(shape, a, b), count_by_laying(shape, b, a)) for a, b in parts))
    return max(found)


@settings(FIXED, max_examples=examples(30))
@given(SHAPES, SIDES, SIDES)
@example(Diamond(Fraction(4), Fraction(60)), Fraction(11), Fraction(12))
@example(Rectangle(Fraction(2), Fraction(3)), Fraction(5), Fraction(5))
def test_the_best_way_is_what_brute_force_finds(shape, length, width):
    assert best_way(shape, Cloth(length, width)).pieces == most_by_brute_force(shape, float(length), float(width))


@FIXED
@given(SHAPES, st.integers(8, 8 * 1500), st.integers(8, 8 * 1500))
@example(Rectangle(Fraction(1), Fraction(1)), 8 * 1200, 8 * 1100)
@example(Parallelogram(Fraction(1), Fraction(30), Fraction(15)), 8 * 1200, 8 * 119)
def test_on_a_large_cloth_no_number_of_strips_that_come_first_gives_more(shape, length, width):
    """All numbers of strips across a side, each with what the rest gives along it."""

    def given_by(run: float) -> int:
        return max(0, math.floor((run - shape.starter_waste + 1e-9) / shape.advance))

    found, size = [], float(shape.size)
    for long, across in ((length / 8, width / 8), (width / 8, length / 8)):
        rows = math.floor(across / size + 1e-9)
        found += [
            k * given_by(across) + rows * given_by(long - k * size) for k in range(math.floor(long / size + 1e-9) + 1)
        ]
    assert best_way(shape, Cloth(Fraction(length, 8), Fraction(width, 8))).pieces == max(found)


TIES = {
    "undivided, though a mix has fewer strips": (13.5, 21.5, 40, None, 10),
    "undivided, the way with fewer strips": (10.5, 20, 30, None, 5),
    "mixed, the one with fewer strips": (15.5, 21, 46, ("width", 2), 8),
}


@pytest.mark.parametrize("tie", TIES)
def test_of_ways_that_give_as_many_the_kindest_to_cut_wins(tie):
    """Diamonds of 2 in at 45°. Common practice, no published source."""
    length, width, count, division, strips = TIES[tie]
    way = best_way(Diamond(Fraction(2), Fraction(45)), Cloth(Fraction(length), Fraction(width)))
    assert (way.pieces, way.division, way.strips) == (count, division, strips)


def test_a_mix_of_both_ways_is_found_where_it_wins():
    # 2 by 3 in rectangles fill 5 by 6 in; worked out by hand: 5 × 6 = 2 × 3 pieces and 5 × 6 / 6 = 5 in all.
    best = best_way(Rectangle(Fraction(2), Fraction(3)), Cloth(Fraction(5), Fraction(6)))
    assert best.pieces == 5
    assert best.grain_mixed
    assert (
        max(
            one_way(Rectangle(Fraction(2), Fraction(3)), Cloth(Fraction(5), Fraction(6)), along).pieces
            for along in ("length", "width")
        )
        == 4
    )


# --- Laws ---------------------------------------------------------------------------------------------------------


@FIXED
@given(SHAPES, SIDES, SIDES)
def test_never_more_pieces_than_the_area_allows_and_never_below_either_single_way(shape, length, width):
    cloth = Cloth(length, width)
    best = best_way(shape, cloth).pieces
    assert best * shape.area <= float(cloth.area) * (1 + 1e-9)
    assert best >= max(one_way(shape, cloth, along).pieces for along in ("length", "width"))


@FIXED
@given(SHAPES, SIDES, SIDES, SIDES)
def test_a_longer_or_wider_cloth_never_gives_fewer(shape, length, width, more):
    cloth, longer, wider = Cloth(length, width), Cloth(length + more, width), Cloth(length, width + more)
    for larger in (longer, wider):
        assert best_way(shape, larger).pieces >= best_way(shape, cloth).pieces
        for along in ("length", "width"):
            assert one_way(shape, larger, along).pieces >= one_way(shape, cloth, along).pieces


@FIXED
@given(SHAPES, SIDES, SIDES)
def test_turning_the_cloth_changes_nothing_but_the_names(shape, length, width):
    cloth, turned = Cloth(length, width), Cloth(width, length)
    assert best_way(shape, cloth).pieces == best_way(shape, turned).pieces
    assert one_way(shape, cloth, "length").pieces == one_way(shape, turned, "width").pieces


@FIXED
@given(SIZES, st.integers(1, 40))
def test_a_side_of_exactly_so_many_sizes_holds_so_many_strips(size, strips):
    assert fits(size * strips, size) == strips
    assert fits(size * strips - Fraction(1, 1000), size) == strips - 1
    # The same side after a journey through a float, as when an answer's number is asked about again.
    assert fits(Fraction(float(size * strips)), size) == strips
    assert fits(size * strips, Fraction(float(size))) == strips


# --- Shapely: every layout ----------------------------------------------------------------------------------------


def expected_corners(piece: dict) -> list[tuple[float, float]]:
    """(edge length, inner angle at its end) round a piece, anticlockwise from the edge along the
    strip, by DESIGN's formulas.
    """
    angle = math.radians(float(Fraction(piece.get("angle", 90))))
    size = float(Fraction(piece["size"]))
    if piece["shape"] == "rectangle":
        return [(float(Fraction(piece["length"])), 90.0), (size, 90.0)] * 2
    if piece["shape"] == "half-diamond":
        tip = angle if piece["cut"] == "short" else math.pi - angle
        base, leg, foot = 2 * size * math.tan(tip / 2), size / math.cos(tip / 2), 90 - math.degrees(tip) / 2
        return [(base, foot), (leg, math.degrees(tip)), (leg, foot)]
    across = float(Fraction(piece.get("across", piece["size"])))
    return [(across / math.sin(angle), 180 - math.degrees(angle)), (size / math.sin(angle), math.degrees(angle))] * 2


def corners(outline) -> list[tuple[float, float]]:
    """(edge length, inner angle at its end) round an outline, in the order of its corners."""
    found = []
    for i, here in enumerate(outline):
        before, after = outline[i - 1], outline[(i + 1) % len(outline)]
        u, v = (before[0] - here[0], before[1] - here[1]), (after[0] - here[0], after[1] - here[1])
        turn = math.degrees(math.atan2(v[0] * u[1] - v[1] * u[0], v[0] * u[0] + v[1] * u[1])) % 360
        found.append((math.hypot(*u), turn))
    return found


def same_round(found, expected) -> bool:
    """Whether two rounds of corners agree from some starting corner on: equal by turning and
    moving, without mirroring.
    """
    turns = [expected[i:] + expected[:i] for i in range(len(expected))]
    near = [
        all(math.isclose(a, b, rel_tol=1e-7, abs_tol=1e-7) for x, y in zip(found, turn) for a, b in zip(x, y))
        for turn in turns
    ]
    return len(found) == len(expected) and any(near)


def rectangle(strip: dict):
    """A strip as a Shapely box."""
    run, size = (strip["run"], strip["size"]) if strip["along"] == "length" else (strip["size"], strip["run"])
    return box(strip["x"], strip["y"], strip["x"] + run, strip["y"] + size)


def overlap(polygons) -> float:
    """The largest area that any two of the polygons share."""
    if not polygons:
        return 0.0
    tree = shapely.STRtree(polygons)
    mine, other = tree.query(polygons)
    pairs = mine < other
    shapes = tree.geometries
    return max(shapely.area(shapely.intersection(shapes[mine[pairs]], shapes[other[pairs]])), default=0.0)


def check_layout(way: dict, piece: dict, length: float, width: float) -> None:
    """Inside the cloth, no overlap, right shape, right count, and cut by the one division and parallel strips."""
    strips = way["layout"]["strips"]
    outlines = [(strip, outline) for strip in strips for outline in strip["outlines"]]
    polygons = [Polygon(outline) for _, outline in outlines]
    whole = box(0, 0, length, width).buffer(NEAR, join_style="mitre")
    assert way["layout"]["drawn"] is True
    assert len(polygons) == way["pieces"] == sum(strip["count"] for strip in strips)
    assert all(len(strip["outlines"]) == strip["count"] > 0 for strip in strips)
    assert all(strip["size"] == pytest.approx(float(Fraction(piece["size"])), rel=1e-12) for strip in strips)
    assert shapely.covers(whole, polygons).all()
    assert shapely.covers(whole, [rectangle(strip) for strip in strips]).all()
    assert overlap(polygons) < NEAR
    assert overlap([rectangle(strip) for strip in strips]) < 1e-6  # NEAR along a strip of up to 45 in
    for strip, outline in outlines:
        assert rectangle(strip).buffer(NEAR, join_style="mitre").covers(Polygon(outline))
        assert same_round(corners(outline), expected_corners(piece))
    check_division(way, length, width)


def check_division(way: dict, length: float, width: float) -> None:
    """All strips one way without a division; with one, none crosses it and each side of it runs one way."""
    strips, division = way["layout"]["strips"], way["layout"]["division"]
    if division is None:
        assert len({strip["along"] for strip in strips}) <= 1
        return
    at, along = division["at"], division["along"]
    assert 0 < at < (length if along == "length" else width)
    first = box(0, 0, *((at, width) if along == "length" else (length, at))).buffer(NEAR, join_style="mitre")
    second = box(*((at, 0) if along == "length" else (0, at)), length, width).buffer(NEAR, join_style="mitre")
    sides = [
        (
            "first" if first.covers(rectangle(strip)) else "second" if second.covers(rectangle(strip)) else "crosses",
            strip["along"],
        )
        for strip in strips
    ]
    assert "crosses" not in dict(sides)
    assert len(set(sides)) == len({side for side, _ in sides})


@st.composite
def pieces(draw) -> dict:
    """A piece as a request gives it, exact: texts of fractions or millimetres never lose anything."""
    shape = draw(st.sampled_from(("diamond", "diamond", "half-diamond", "parallelogram", "rectangle")))
    piece = {"shape": shape, "size": str(draw(SIZES))}
    if shape != "rectangle":
        piece["angle"] = float(draw(ANGLES))
    if shape == "half-diamond":
        piece["cut"] = draw(st.sampled_from(("short", "long")))
    if shape in ("parallelogram", "rectangle"):
        piece["across" if shape == "parallelogram" else "length"] = str(draw(SIZES))
    return piece


@settings(FIXED, max_examples=examples(15, 4))
@given(pieces(), SIDES, SIDES)
def test_every_layout_holds_up_before_shapely(piece, length, width):
    found = answer({"ask": "cloth", "piece": piece, "cloth": {"length": str(length), "width": str(width)}})
    assert found["ok"], found
    for way in ("along_length", "along_width", "best"):
        check_layout(found[way], piece, float(length), float(width))


# Cloths on which only a mix is best, found by brute force; all kinds of pieces, divided along either side.
MIXED = [
    ({"shape": "diamond", "size": "4", "angle": 60.0}, 11, 12),
    ({"shape": "diamond", "size": "4", "angle": 60.0}, 12, 11),
    ({"shape": "diamond", "size": "5/2", "angle": 45.0}, 13, 13),
    ({"shape": "rectangle", "size": "2", "length": "3"}, 5, 6),
    ({"shape": "parallelogram", "size": "2", "across": "4", "angle": 60.0}, 16, 23),
    ({"shape": "half-diamond", "size": "3", "angle": 60.0, "cut": "short"}, 10, 12),
    ({"shape": "half-diamond", "size": "3", "angle": 60.0, "cut": "long"}, 19, 25),
]


@pytest.mark.parametrize("piece, length, width", MIXED)
def test_mixes_hold_up_before_shapely(piece, length, width):
    found = answer({"ask": "cloth", "piece": piece, "cloth": {"length": length, "width": width}})
    assert found["best"]["pieces"] > max(found["along_length"]["pieces"], found["along_width"]["pieces"])
    assert found["best"]["grain_mixed"] is True
    assert {strip["along"] for strip in found["best"]["layout"]["strips"]} == {"length", "width"}
    check_layout(found["best"], piece, length, width)


def broken(way: dict, fault: str) -> dict:
    """A good layout broken in one way."""
    way = json.loads(json.dumps(way))
    strips = way["layout"]["strips"]
    first, last = strips[0]["outlines"], strips[-1]["outlines"]
    if fault == "outside the cloth":
        last[-1] = [[x + 5, y] for x, y in last[-1]]
    elif fault == "outside its strip":
        first[0] = [[x, y + 0.01] for x, y in first[0]]
    elif fault == "overlap":
        first[1] = [[x - 0.01, y] for x, y in first[1]]
    elif fault == "one too few":
        first.pop()
    elif fault == "one twice":
        first[0] = first[1]
    elif fault == "mirrored":
        first[0] = [[x, 4 - y] for x, y in reversed(first[0])]
    elif fault == "too small":
        first[0] = [[x, y * 0.999] for x, y in first[0]]
    elif fault == "strips overlap":
        strips[1]["y"] -= 0.01
    elif fault == "across the division":
        way["layout"]["division"] = {"along": "length", "at": 9}
    elif fault == "two ways without a division":
        strips[-1]["along"] = "width"
    return way


FAULTS = (
    "outside the cloth",
    "outside its strip",
    "overlap",
    "one too few",
    "one twice",
    "mirrored",
    "too small",
    "strips overlap",
    "across the division",
    "two ways without a division",
)


@pytest.mark.parametrize("fault", FAULTS)
def test_the_check_of_layouts_finds_what_is_broken(fault):
    good, piece = diamonds(4, 18, 20)["along_length"], {"shape": "diamond", "size": "4", "angle": 60}
    check_layout(good, piece, 18, 20)
    with pytest.raises(AssertionError):
        check_layout(broken(good, fault), piece, 18, 20)


# --- What the answer says beside the counts -----------------------------------------------------------------------


@FIXED
@given(SHAPES, SIDES, SIDES, st.sampled_from(("length", "width")))
def test_short_by_along_and_across_gives_one_more_and_a_hair_less_does_not(shape, length, width, along):
    # A hair of 1e-6 in: above the 1e-9 in that count as the same length, far below what can be cut.
    cloth = Cloth(length, width)
    part = one_way(shape, cloth, along).parts[0]
    found = one_more(shape, part)
    longer, wider = part.run + Fraction(found["short_by"]), part.across + Fraction(found["strip_short_by"])
    hair = Fraction(1, 1_000_000)

    def counted(run, across):
        other = one_way(shape, Cloth(run, across), "length").parts[0]
        return other.strips, other.strip.pieces

    assert counted(longer, part.across) == (part.strips, part.strip.pieces + 1)
    assert counted(longer - hair, part.across)[1] <= part.strip.pieces
    assert counted(part.run, wider) == (part.strips + 1, part.strip.pieces)
    assert counted(part.run, wider - hair)[0] <= part.strips


@FIXED
@given(pieces(), SIDES, SIDES)
def test_the_numbers_of_an_answer_agree_with_each_other(piece, length, width):
    found = answer({"ask": "cloth", "piece": piece, "cloth": {"length": str(length), "width": str(width)}})
    for name in ("along_length", "along_width"):
        way = found[name]
        run, across = (float(length), float(width)) if name == "along_length" else (float(width), float(length))
        assert way["pieces"] == way["strips"] * way["per_strip"]
        assert way["strip_spare"] == pytest.approx(across - way["strips"] * float(Fraction(piece["size"])), abs=NEAR)
        assert way["reason"] == (None if way["pieces"] else "short" if way["strips"] else "narrow")
        if way["per_strip"]:
            assert way["needed_length"] + way["spare"] == pytest.approx(run, abs=NEAR)
        assert way["folded"]["pieces"] <= way["pieces"]
        assert way["folded"]["layer"] == pytest.approx(max(0, run / 2 - 1 / 8), abs=NEAR)
    areas = [
        sum(Polygon(o).area for strip in found[w]["layout"]["strips"] for o in strip["outlines"])
        for w in ("along_length", "best")
    ]
    assert found["along_length"]["used_share"] == pytest.approx(areas[0] / float(length * width), rel=1e-9)
    assert (
        found["used_share"] == found["best"]["used_share"] == pytest.approx(areas[1] / float(length * width), rel=1e-9)
    )


def rests(way: dict, length: float, width: float) -> list[tuple[float, float]]:
    """Length and width of what no strip is cut from, part by part, found by taking the strips out of the cloth."""
    division = way["layout"]["division"]
    at = [division["at"]] if division else []
    ends = [0, *at, length if not division or division["along"] == "length" else width]
    found = []
    for low, high in zip(ends, ends[1:]):
        part = box(0, low, length, high) if division and division["along"] == "width" else box(low, 0, high, width)
        left = shapely.difference(
            part, shapely.union_all([rectangle(strip) for strip in way["layout"]["strips"]]), grid_size=1e-7
        )
        if not left.is_empty:
            found.append((left.bounds[2] - left.bounds[0], left.bounds[3] - left.bounds[1]))
    return found


@FIXED
@given(pieces(), SIDES, SIDES)
def test_what_is_left_whole_is_the_cloth_less_its_strips_but_for_slivers(piece, length, width):
    found = answer({"ask": "cloth", "piece": piece, "cloth": {"length": str(length), "width": str(width)}})
    for name in ("along_length", "along_width", "best"):
        told = [pytest.approx(rest, abs=1e-6) for rest in found[name]["left_whole"]]
        # From two inches each way it is told: common practice, no published source.
        assert [rest for rest in rests(found[name], float(length), float(width)) if min(rest) >= 2 - 1e-6] == told


def test_no_piece_is_an_answer_with_the_reason():
    # The cloth too narrow for a strip, or the strip too short for its first piece.
    found = diamonds(8, 7, 20)
    assert (found["along_width"]["pieces"], found["along_width"]["reason"]) == (0, "narrow")
    assert (found["along_length"]["pieces"], found["along_length"]["reason"]) == (0, "short")
    assert (found["best"]["pieces"], found["used_share"], found["best"]["layout"]["strips"]) == (0, 0, [])
    assert found["along_width"]["strip_short_by"] == 1


@pytest.mark.parametrize(
    "selvage, along_length, along_width",
    [("length", "lengthwise", "crosswise"), ("width", "crosswise", "lengthwise"), ("none", "unknown", "unknown")],
)
def test_strips_along_the_selvage_lie_on_the_lengthwise_grain(selvage, along_length, along_width):
    # Warp runs along the selvage: common practice, no published source.
    found = answer(
        {"ask": "cloth", "piece": {"size": 4, "angle": 60}, "cloth": {"length": 18, "width": 20, "selvage": selvage}}
    )
    assert (found["along_length"]["grain"], found["along_width"]["grain"]) == (along_length, along_width)


def test_one_way_does_not_mix_the_grain():
    assert diamonds(4, 18, 20)["best"]["grain_mixed"] is False


def test_a_fold_loses_pieces_that_the_open_strip_gives():
    # Each layer has its own starter waste: 42 in open give four 8 in diamonds, folded in two only one in each layer.
    # Two layers of 20 7/8 in: (20.875 − 4.619) / 9.238 = 1.76.
    assert diamonds(8, 8, 42)["along_width"]["folded"] == {"layers": 2, "layer": 20.875, "pieces": 2}


@FIXED
@given(SHAPES, SIDES, st.integers(1, 12))
def test_a_fold_never_wins_pieces(shape, run, layers):
    assert folded_yield(shape, run, layers).pieces <= one_way(shape, Cloth(run, shape.size), "length").pieces


def test_a_ready_cut_strip_has_no_strip_to_measure_for():
    # 2 1/2 in pieces from a 2 1/2 in strip leave nothing beside it, and nothing can be done about it.
    found = answer({"ask": "cloth", "piece": {"size": "2 1/2", "angle": 60}, "cloth": {"kind": "narrow_strip"}})
    assert "strip" not in found["along_width"]["tight"]
    assert "strip" in diamonds("2 1/2", 5, 42)["along_width"]["tight"]


# --- Numbers that come back ---------------------------------------------------------------------------------------


@FIXED
@given(SIZES, ANGLES, st.integers(1, 9), SIDES)
def test_an_answers_numbers_asked_about_again_give_the_same(size, angle, strips, width):
    # The page sends numbers that earlier answers gave; a float in place of an exact fraction must not lose a strip.
    piece = {"size": str(size), "angle": float(angle)}
    exact = answer({"ask": "cloth", "piece": piece, "cloth": {"length": str(size * strips), "width": str(width)}})
    sides = {side: exact["cloth"][side] for side in ("length", "width")}
    again = answer(
        {
            "ask": "cloth",
            "piece": {"size": answer({"ask": "piece", "piece": piece})["size"], "angle": float(angle)},
            "cloth": sides,
        }
    )
    for way in ("along_length", "along_width", "best"):
        assert again[way]["pieces"] == exact[way]["pieces"]


# --- Limits -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size, side", [(1, 100), (1, 120), ("1/4", 40), ("1/4", 40_000)])
def test_an_answer_holds_at_most_20_000_outlines_and_says_where_it_draws_none(size, side):
    found = diamonds(size, side, side)
    drawn = 0
    for name in ("along_length", "along_width", "best"):
        layout = found[name]["layout"]
        outlines = sum(len(strip["outlines"]) for strip in layout["strips"])
        assert outlines == (found[name]["pieces"] if layout["drawn"] else 0)
        drawn += outlines
    assert drawn <= 20_000
    assert found["best"]["pieces"] > 0


def test_the_best_way_is_drawn_first_of_all():
    found = diamonds(1, 100, 100)
    assert found["best"]["layout"]["drawn"] and not found["along_width"]["layout"]["drawn"]


@pytest.mark.parametrize("side", [0.001, "0.0254 mm", "1/999"])
def test_a_speck_of_cloth_gives_nothing(side):
    found = diamonds(4, side, side)
    assert (found["best"]["pieces"], found["used_share"]) == (0, 0)


@pytest.mark.parametrize(
    "length, width, selvage, field",
    [
        (0, 4, None, "length"),
        (4, -1, None, "width"),
        (math.nan, 4, None, "length"),
        (4, math.inf, None, "width"),
        (40_001, 4, None, "length"),
        (4, 4, "both", "selvage"),
    ],
)
def test_a_cloth_refuses_nonsense_when_it_is_made(length, width, selvage, field):
    with pytest.raises(Refusal) as refused:
        Cloth(length, width, selvage)
    assert refused.value.field == field


def test_the_last_strip_of_the_needed_length_gives_all_its_pieces():
    diamond = Diamond(Fraction(7, 2), Fraction(60))
    for pieces_wanted in range(1, 12):
        cloth = Cloth(Fraction(needed_length(diamond, pieces_wanted)), diamond.size)
        assert one_way(diamond, cloth, "length").pieces == pieces_wanted
