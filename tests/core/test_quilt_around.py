"""Borders, binding, backing and batting, against arithmetic worked by hand and against Shapely."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import translate
from shapely.geometry import LineString, Polygon, box

from matside import answer
from matside.quilt.around.backing import Backing, panels
from matside.quilt.around.binding import Binding, bias_depth, bias_length


def quilt(**fields):
    return answer({"ask": "quilt", "piece": {"size": 4, "angle": 60}, **fields})


def exact(**fields):
    """A trimmed quilt of exactly 40 × 50 in."""
    return quilt(edge="trimmed", width=40, height=50, **fields)


def test_butted_borders_by_hand():
    # Round 30 × 40 in: a border of 1 in, then one of 4 in; ¼ in seams. Sides first, then top
    # and bottom over their ends.
    found = exact(borders=[{"width": 1}, {"width": 4}])
    assert found["patchwork"] == {"width": 30, "height": 40}
    cuts = [(e["size"], e["length"], e["need"]) for e in found["cut"] if e["kind"].startswith("border")]
    assert cuts == [(1.5, 40.5, 2), (1.5, 32.5, 2), (4.5, 42.5, 2), (4.5, 40.5, 2)]


def test_mitered_borders_by_hand():
    # Round 32 × 42 in, 4 in wide: the outer edges are 40 and 50 in; each end of the cut strip
    # is ¼ in · cot 22.5° longer.
    found = exact(borders=[{"width": 4, "corners": "mitered"}])
    longer = 2 * 0.25 / math.tan(math.radians(22.5))
    lengths = sorted(e["length"] for e in found["cut"] if e["kind"].startswith("border"))
    assert lengths == pytest.approx([40 + longer, 50 + longer], abs=1e-9)
    assert all(e["ends"] == [45, 45] for e in found["cut"] if e["kind"].startswith("border"))


@pytest.mark.parametrize("corners", ["butted", "mitered", "mitred"])
def test_borders_and_binding_lie_round_the_patchwork_without_a_gap(corners):
    drawing = exact(
        borders=[{"width": 1, "corners": corners}, {"width": 4, "corners": corners}], binding={"width": "3/8"}
    )["drawing"]
    parts = {"border_side": [], "border_end": [], "binding": []}
    for kind, _, shape, x, y, *_ in drawing["pieces"]:
        parts.get(drawing["kinds"][kind], []).append(translate(Polygon(drawing["shapes"][shape]), x, y))
    borders = parts["border_side"] + parts["border_end"]
    ring = box(0, 0, 40, 50).difference(box(5, 5, 35, 45))
    assert sum(part.area for part in borders) == pytest.approx(ring.area)
    assert all(part.within(ring.buffer(1e-6)) for part in borders)
    outer = box(-0.375, -0.375, 40.375, 50.375).difference(box(0, 0, 40, 50))
    assert sum(part.area for part in parts["binding"]) == pytest.approx(outer.area)
    assert drawing["clip"] == [5, 5, 35, 45]


def test_binding_by_hand():
    # 2 · (40 + 50) = 180 in round and 10 in of tail make 190. Strips 42 in long, cut 2½ in wide, lose 2½ in a join:
    # four make 4 · 42 − 3 · 2½ = 160½, five make 200.
    found = exact(binding={})["binding"]
    assert (found["around"], found["length"], found["cut_width"]) == (180, 190, 2.5)
    assert (found["strips"], found["joins"], found["join_takes"]) == (5, 4, 2.5)


def test_square_joins_lose_two_seam_allowances():
    # 4 · 48 − 3 · ½ = 190½, just enough for 180 in and 10½ in of tail.
    assert exact(binding={"join": "square", "strip_length": 48, "tail": 10.5})["binding"]["strips"] == 4
    assert exact(binding={"join": "square", "strip_length": 48, "tail": 10.6})["binding"]["strips"] == 5


def test_a_single_fold_takes_four_widths():
    found = exact(binding={"width": "1/4 in", "fold": "single", "ease": "1/8 in"})
    assert found["binding"]["cut_width"] == 1.125
    assert found["bound"] == {"width": 40.5, "height": 50.5}


def test_a_cut_width_tells_the_finished_one():
    found = exact(binding={"cut_width": "2 1/4 in"})["binding"]
    assert found["width"] == pytest.approx(1 / 3) and found["cut_width"] == 2.25


@given(st.integers(1, 5), st.integers(1, 5), st.sampled_from([0, 0.5, 1.5]))
@settings(max_examples=20, derandomize=True, deadline=None)
def test_binding_of_a_pointed_grid_goes_in_and_out(columns, rows, sash):
    sashing = {"sashing": {"width": sash, "style": "cornerstones"}} if sash else {}
    found = quilt(columns=columns, rows=rows, edge="pointed", binding={}, **sashing)
    assert found["binding"]["around"] == pytest.approx(outline_length(found["drawing"]), abs=1e-3)


@pytest.mark.parametrize("setting", ["zigzag", "hexagons", "stars"])
@pytest.mark.parametrize("sash", [0, 1])
def test_binding_of_other_pointed_settings_goes_in_and_out(setting, sash):
    sashing = {"sashing": {"width": 1}} if sash and setting == "zigzag" else {}
    found = quilt(setting=setting, columns=3, rows=4, edge="pointed", binding={}, **sashing)
    assert found["binding"]["around"] == pytest.approx(outline_length(found["drawing"]), abs=1e-3)


def outline_length(drawing):
    """The outside's length by Shapely, hairlines closed; parts that meet in a point only count each."""
    parts = [
        translate(Polygon(drawing["shapes"][s]), x, y).buffer(1e-5, join_style="mitre")
        for _, _, s, x, y, *_ in drawing["pieces"]
    ]
    whole = parts[0]
    for part in parts[1:]:
        whole = whole.union(part)
    return whole.length


# --- Bias ------------------------------------------------------------------------------------------------------------


def strips_by_shapely(across, down, width):
    """Usable lengths of bias strips: the shorter cut inside the rectangle of every two neighbouring lines at 45°."""
    rectangle, step = box(0, 0, across, down), width * math.sqrt(2)
    ks = range(-math.ceil(down / step) - 1, math.ceil(across / step) + 2)
    cuts = [LineString([(k * step - 1e4, -1e4), (k * step + 1e4, 1e4)]).intersection(rectangle).length for k in ks]
    return [min(pair) for pair in zip(cuts, cuts[1:], strict=False)]


@given(st.integers(5, 120), st.integers(5, 120), st.sampled_from([1, 2.5, 3]))
@settings(max_examples=60, derandomize=True, deadline=None)
def test_bias_strips_are_those_between_lines_at_45_degrees(across, down, width):
    bias = Binding(Fraction(3, 8), grain="bias", cut_width=Fraction(width))
    kept = [length for length in strips_by_shapely(across, down, width) if length >= 10]
    joins = max(0, len(kept) - 1) * 2 * math.sqrt(2) * 0.25
    # Below a hair over 10 in one count may keep a strip that the other leaves out.
    if any(abs(length - 10) < 1e-6 for length in kept):
        return
    assert bias_length(across, down, bias) == pytest.approx(sum(kept) - joins, abs=1e-6)


@given(st.floats(20, 60), st.floats(50, 900))
@settings(max_examples=40, derandomize=True, deadline=None)
def test_the_bias_cloth_is_just_long_enough(across, wanted):
    bias = Binding(Fraction(3, 8), grain="bias")
    depth = bias_depth(across, wanted, bias)
    assert bias_length(across, depth, bias) >= wanted > bias_length(across, depth - 0.0011, bias)


# --- Backing and batting ---------------------------------------------------------------------------------------------


def test_backing_by_hand():
    # 40 × 50 in and 4 in all round: 48 × 58. Cloth 42 in wide, ½ in seams: two panels joined are 83 in wide, either
    # way. Down: two of 58 = 116 in; across: two of 48 = 96 in, which is less.
    found = exact(backing={})["backing"]
    assert (found["width"], found["height"]) == (48, 58)
    assert (found["run"], found["panels"], found["panel_length"], found["length"]) == ("across", 2, 48, 96)
    assert found["other_way"] == {"run": "down", "panels": 2, "panel_length": 58, "length": 116}


def test_wide_backing_needs_no_join():
    found = exact(backing={"usable_width": 108})["backing"]
    assert (found["panels"], found["length"]) == (1, 48)


@given(st.floats(10, 120), st.floats(10, 120), st.integers(20, 110), st.integers(0, 6))
@settings(max_examples=60, derandomize=True, deadline=None)
def test_panels_cover_and_one_fewer_would_not(width, height, usable, overlap):
    backing = Backing(Fraction(usable), Fraction(overlap))
    best, other = panels(width, height, backing)
    assert best.length <= other.length and {best.run, other.run} == {"down", "across"}
    for way in (best, other):
        wanted, long = (width, height) if way.run == "down" else (height, width)
        joined = way.panels * usable - (way.panels - 1)
        assert way.panel_length == pytest.approx(long + 2 * overlap)
        assert joined >= wanted + 2 * overlap - 1e-6
        assert way.panels == 1 or joined - usable + 1 < wanted + 2 * overlap


def test_batting_reaches_over_all_round():
    assert exact(batting={"overlap": 3})["batting"] == {"width": 46, "height": 56, "overlap": 3}


def test_what_is_not_wanted_is_not_answered():
    found = exact()
    assert (found["binding"], found["backing"], found["batting"]) == (None, None, None)
