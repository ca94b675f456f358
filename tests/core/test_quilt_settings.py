"""Settings and edges laid out piece by piece, against Shapely: nothing overlaps, nothing is left open, counts hold."""

import math
import random
from collections import Counter
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import unary_union
from shapely.affinity import translate
from shapely.geometry import Polygon, box

from matside import answer
from matside.quilt.geometry import Geometry, Size, laid
from matside.quilt.outlines.cuts import Piece
from matside.quilt.outlines.polygons import scaled
from matside.quilt.settings.phase import fewest, tiles_needed
from matside.quilt.size.fitting import Target
from matside.shapes import Diamond

QUARTER = Fraction(1, 4)
#: (setting, what joins its stars, sharp angle)
KINDS = [
    ("grid", "diamonds", 60),
    ("grid", "diamonds", 45),
    ("grid", "diamonds", 30),
    ("grid", "diamonds", 90),
    ("zigzag", "diamonds", 60),
    ("zigzag", "diamonds", 45),
    ("zigzag", "diamonds", 75),
    ("zigzag", "diamonds", 90),
    ("hexagons", "diamonds", 60),
    ("stars", "diamonds", 60),
    ("stars", "hexagons", 60),
    ("eight_pointed", "diamonds", 45),
]
#: Overlays snap to this, in inches: without it GEOS loses whole pieces whose edges differ by the last binary digit.
SNAP = 1e-9
#: Sums of areas of some thousand square inches hold to this, in square inches.
SPECK = 1e-6


def geometry(kind, edge, size, lying=False, sash=0.0, style="strips", cut=4):
    setting, joined_by, angle = kind
    piece = Piece(Diamond(Fraction(cut), Fraction(angle)), QUARTER)
    return Geometry(piece, setting, joined_by, lying, edge, size, sash, style)


def polygons(ground):
    parts = [ground.patchwork] + ([ground.sashing] if ground.sashing else [])
    return [Polygon(part.outline(patch)) for part in parts for patch in part.patches]


def union(found):
    return unary_union(found, grid_size=SNAP)


def assert_fills(found, area):
    assert all(polygon.is_valid for polygon in found)
    assert sum(polygon.area for polygon in found) == pytest.approx(area, abs=SPECK)
    assert union(found).area == pytest.approx(area, abs=SPECK)


@pytest.mark.every(5)
@pytest.mark.parametrize("kind", KINDS, ids=str)
@pytest.mark.parametrize(("columns", "rows"), [(1, 1), (2, 3), (3, 2), (4, 5)])
@pytest.mark.parametrize("lying", [False, True])
def test_a_filled_setting_fills_its_rectangle_and_nothing_else(kind, columns, rows, lying):
    ground = laid(geometry(kind, "filled", Size(columns=columns, rows=rows), lying))
    width, height = ground.patchwork.width, ground.patchwork.height
    assert_fills(polygons(ground), width * height)
    assert union(polygons(ground)).bounds == pytest.approx((0, 0, width, height), abs=1e-9)


@given(st.integers(1, 9), st.integers(1, 9), st.integers(15, 90), st.booleans())
@settings(max_examples=25, derandomize=True, deadline=None)
def test_the_touching_grid_counts_by_the_formula(c, r, angle, lying):
    # c·r + (c−1)(r−1) whole, 2(r−1) side and 2(c−1) end halves, 4 corners (counting along the lines of the grid).
    ground = laid(geometry(("grid", "diamonds", angle), "filled", Size(columns=c, rows=r), lying))
    expected = {
        "diamond": c * r + (c - 1) * (r - 1),
        "side_half": 2 * (r - 1),
        "end_half": 2 * (c - 1),
        "corner_quarter": 4,
    }
    assert ground.patchwork.counts() == {kind: n for kind, n in expected.items() if n}


def test_five_by_five_filled_gives_41():
    found = answer({"ask": "quilt", "piece": {"size": 4, "angle": 60}, "columns": 5, "rows": 5})
    assert found["pieces"] == {"diamond": 41, "side_half": 8, "end_half": 8, "corner_quarter": 4}
    assert (found["columns"], found["rows"]) == (5, 5)


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind[0] != "eight_pointed"], ids=str)
@pytest.mark.parametrize(("columns", "rows"), [(1, 2), (2, 3), (4, 3)])
@pytest.mark.parametrize("lying", [False, True])
def test_a_pointed_setting_has_whole_diamonds_in_its_measured_size(kind, columns, rows, lying):
    ground = laid(geometry(kind, "pointed", Size(columns=columns, rows=rows), lying))
    found = polygons(ground)
    assert set(ground.patchwork.counts()) == {"diamond"}
    assert_fills(found, len(found) * found[0].area)
    assert union(found).bounds == pytest.approx((0, 0, ground.patchwork.width, ground.patchwork.height), abs=1e-9)


@pytest.mark.parametrize(
    ("kind", "columns", "rows", "diamonds"),
    [
        (("hexagons", "diamonds", 60), 3, 2, 15),  # rows of 3 and 2 hexagons, three diamonds each
        (
            ("stars", "diamonds", 60),
            3,
            2,
            37,
        ),  # 5 stars of 6, and between them 2 + 1 pairs beside and 4 pairs above each other
        (("stars", "hexagons", 60), 3, 2, 60),  # 5 stars of 6 and 6 round each
        (("zigzag", "diamonds", 60), 3, 2, 6),
        (("grid", "diamonds", 60), 3, 2, 8),
    ],
    ids=str,
)
def test_pointed_counts_worked_by_hand(kind, columns, rows, diamonds):
    assert laid(geometry(kind, "pointed", Size(columns=columns, rows=rows))).patchwork.counts() == {"diamond": diamonds}


def test_an_eight_pointed_block_has_eight_diamonds_four_squares_and_four_triangles():
    counts = laid(geometry(("eight_pointed", "diamonds", 45), "filled", Size(columns=2, rows=3))).patchwork.counts()
    assert counts == {"diamond": 48, "square": 24, "side_triangle": 24}


# --- Trimmed edges ---------------------------------------------------------------------------------------------------


def brute_count(setting, width, height, shift):
    """Pieces of a large sheet that share area with the rectangle, one polygon intersection each."""
    rectangle, tiling = box(0, 0, width, height), setting.tiling
    found = 0
    for tile in tiling.tiles:
        outline = Polygon(scaled(tiling.shapes[tile.shape], setting.scale))
        right, down = math.floor(shift[0] / tiling.width), math.floor(shift[1] / tiling.height)
        for i in range(-2 - right, math.ceil(width / tiling.width) + 2 - right):
            for j in range(-2 - down, math.ceil(height / tiling.height) + 2 - down):
                x, y = tile.x + i * tiling.width + shift[0], tile.y + j * tiling.height + shift[1]
                found += translate(outline, x, y).intersection(rectangle).area > 1e-8
    return found


TRIMMED = [kind for kind in KINDS if kind[0] != "eight_pointed"]


SASHED = [(kind, sash) for kind in TRIMMED for sash in (0.0, 1.25) if not sash or kind[0] in ("grid", "zigzag")]


@pytest.mark.parametrize(("kind", "sash"), SASHED, ids=str)
def test_tiles_are_counted_as_shapely_counts_them_at_any_shift(kind, sash):
    dice = random.Random(f"{kind}{sash}")
    setting = geometry(kind, "trimmed", Size(columns=1, rows=1), sash=sash).built()
    shapes = tuple(scaled(shape, setting.scale) for shape in setting.tiling.shapes)
    for _ in range(3):
        width, height = dice.uniform(3, 20), dice.uniform(3, 20)
        for shift in [fewest(setting.tiling, shapes, width, height), (dice.uniform(-9, 9), dice.uniform(-9, 9))]:
            assert tiles_needed(setting.tiling, shapes, width, height, shift) == brute_count(
                setting, width, height, shift
            )


@pytest.mark.every(2)
@pytest.mark.parametrize("kind", TRIMMED, ids=str)
@pytest.mark.parametrize("seed", range(3))
def test_no_shift_needs_fewer_tiles_than_the_one_chosen(kind, seed):
    dice = random.Random(f"{kind}{seed}")
    sash = dice.choice([0.0, 0.75]) if kind[0] in ("grid", "zigzag") else 0.0
    setting = geometry(kind, "trimmed", Size(columns=1, rows=1), sash=sash).built()
    tiling, shapes = setting.tiling, tuple(scaled(shape, setting.scale) for shape in setting.tiling.shapes)
    # Whole numbers of steps are where many tiles only touch the edge: the hardest case.
    width = dice.choice([dice.uniform(2, 30), setting.step[0] * dice.randint(1, 4)])
    height = dice.choice([dice.uniform(2, 30), setting.step[1] * dice.randint(1, 4)])
    least = tiles_needed(tiling, shapes, width, height, fewest(tiling, shapes, width, height))
    even = [(i * tiling.width / 18, j * tiling.height / 18) for i in range(18) for j in range(18)]
    for shift in even:
        assert tiles_needed(tiling, shapes, width, height, shift) >= least


@pytest.mark.every(3)
@pytest.mark.parametrize(("kind", "sash"), SASHED, ids=str)
@pytest.mark.parametrize("lying", [False, True])
def test_a_trimmed_patchwork_covers_the_finished_size_and_its_seam_allowance(kind, sash, lying):
    ground = laid(geometry(kind, "trimmed", Size(target=Target(31.0, 43.0)), lying, sash))
    found = polygons(ground)
    needed = box(-0.25, -0.25, 31.25, 43.25)
    # Straight sashing is drawn in its finished length; its own seam allowance reaches over the edge.
    drawn = box(0, 0, 31, 43) if kind[0] == "zigzag" and sash else needed
    assert drawn.difference(unary_union([polygon.buffer(1e-7) for polygon in found])).area < 1e-4
    assert sum(polygon.area for polygon in found) == pytest.approx(union(found).area, abs=SPECK)
    assert all(polygon.intersection(needed).area > 1e-8 for polygon in found)


@given(st.floats(15, 60), st.floats(15, 60), st.floats(0, 8), st.floats(0, 8), st.sampled_from(TRIMMED))
@settings(max_examples=25, derandomize=True, deadline=None)
def test_a_larger_trimmed_quilt_never_needs_fewer_pieces(width, height, wider, higher, kind):
    small, large = (
        len(laid(geometry(kind, "trimmed", Size(target=Target(*size)))).patchwork.patches)
        for size in ((width, height), (width + wider, height + higher))
    )
    assert small <= large


# --- Sashing ---------------------------------------------------------------------------------------------------------


@pytest.mark.every(7)
@pytest.mark.parametrize("angle", [30, 45, 60, 90])
@pytest.mark.parametrize("style", ["strips", "cornerstones"])
@pytest.mark.parametrize(("columns", "rows"), [(1, 1), (1, 3), (3, 1), (4, 3)])
@pytest.mark.parametrize("sash", [0.5, 1.0, 3.5])
def test_a_filled_grid_with_sashing_fills_its_rectangle(angle, style, columns, rows, sash):
    ground = laid(
        geometry(("grid", "diamonds", angle), "filled", Size(columns=columns, rows=rows), sash=sash, style=style)
    )
    assert_fills(polygons(ground), ground.patchwork.width * ground.patchwork.height)


@pytest.mark.parametrize("style", ["strips", "cornerstones"])
@pytest.mark.parametrize("lying", [False, True])
def test_a_pointed_grid_with_sashing_is_one_whole_without_holes(style, lying):
    ground = laid(geometry(("grid", "diamonds", 60), "pointed", Size(columns=3, rows=4), lying, 1.0, style))
    found = polygons(ground)
    whole = unary_union([polygon.buffer(1e-9) for polygon in found])
    assert whole.geom_type == "Polygon" and not whole.interiors
    assert sum(polygon.area for polygon in found) == pytest.approx(union(found).area, abs=SPECK)
    assert whole.bounds == pytest.approx((0, 0, ground.patchwork.width, ground.patchwork.height), abs=1e-6)


@given(st.integers(1, 5), st.integers(1, 5))
@settings(max_examples=25, derandomize=True, deadline=None)
def test_sashing_of_a_filled_grid_is_counted_by_edges_and_crossings(c, r):
    counts = laid(
        geometry(("grid", "diamonds", 60), "filled", Size(columns=c, rows=r), sash=1.0, style="cornerstones")
    ).sashing.counts()
    # Each of the c·r cells of the rectangle holds one diamond's four edges; so there is a strip for each.
    assert counts["sash"] == 4 * c * r
    # Crossings lie at the left and right points of the c × r diamonds and at their upper and lower points.
    assert counts["cornerstone_side_half"] == 2 * r and counts["cornerstone_end_half"] == 2 * c
    assert counts.get("cornerstone", 0) == (c - 1) * r + c * (r - 1)


@pytest.mark.parametrize("style", ["strips", "cornerstones"])
def test_blocks_with_sashing_fill_their_rectangle(style):
    ground = laid(geometry(("eight_pointed", "diamonds", 45), "filled", Size(columns=3, rows=2), sash=1.0, style=style))
    assert_fills(polygons(ground), ground.patchwork.width * ground.patchwork.height)
    strips, stones = {"sash": 4, "sash_long": 1}, {"sash": 7, "cornerstone": 2}
    assert ground.sashing.counts() == (strips if style == "strips" else stones)


@pytest.mark.parametrize("angle", [45, 60, 90])
def test_zigzag_rows_with_sashing_fill_their_rectangle(angle):
    ground = laid(geometry(("zigzag", "diamonds", angle), "filled", Size(columns=4, rows=3), sash=1.0))
    assert_fills(polygons(ground), ground.patchwork.width * ground.patchwork.height)
    assert Counter(ground.sashing.counts()) == {"sash_long": 2}


@pytest.mark.parametrize("lying", [False, True])
def test_pointed_zigzag_rows_have_a_strip_between_every_two_as_long_as_their_seam(lying):
    ground = laid(geometry(("zigzag", "diamonds", 60), "pointed", Size(columns=4, rows=4), lying, 1.0))
    found = polygons(ground)
    assert ground.sashing.counts() == {"sash_long": 3}
    assert sum(polygon.area for polygon in found) == pytest.approx(union(found).area, abs=SPECK)
    assert union(found).bounds == pytest.approx((0, 0, ground.patchwork.width, ground.patchwork.height), abs=1e-9)
    # Every strip shares its whole length with the row above and with the row below.
    edge = 3.5 / math.sin(math.radians(60))
    for patch in ground.sashing.patches:
        strip = Polygon(ground.sashing.outline(patch))
        assert sorted(strip.bounds[k + 2] - strip.bounds[k] for k in (0, 1)) == pytest.approx([1, 4 * edge])
