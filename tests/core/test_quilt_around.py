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
    # Round 32 × 42 in, 4 in wide: the outer edges are 40 and 50 in; each end of the exact strip
    # is ¼ in · cot 22.5° longer. It is cut square and 2 in longer at each end, to be trimmed when the corner is sewn.
    found = exact(borders=[{"width": 4, "corners": "mitered"}])
    longer = 2 * 0.25 / math.tan(math.radians(22.5))
    strips = sorted((e for e in found["cut"] if e["kind"].startswith("border")), key=lambda e: e["length"])
    assert [e["exact"] for e in strips] == pytest.approx([40 + longer, 50 + longer], abs=1e-9)
    assert [e["length"] for e in strips] == pytest.approx([44 + longer, 54 + longer], abs=1e-9)
    assert all("ends" not in e and e["extra"] == 2 for e in strips)


@pytest.mark.parametrize("extra", [0, 1.5, 2])
def test_a_mitered_strip_holds_its_piece_with_the_extra_at_both_ends(extra):
    found = exact(borders=[{"width": 3, "corners": "mitered", "extra": extra}])
    drawing = found["drawing"]
    strips = {e["kind"]: box(0, 0, e["length"], e["size"]) for e in found["cut"] if e["kind"].startswith("border")}
    for kind, _, shape, *_ in drawing["pieces"]:
        name = drawing["kinds"][kind]
        if name in strips:
            piece = Polygon(drawing["shapes"][shape]).buffer(0.25, join_style="mitre", mitre_limit=50)
            left, top, right, bottom = piece.bounds
            # Sides stand upright in the drawing and lie in their strip.
            long, wide = (right - left, bottom - top) if name == "border_end" else (bottom - top, right - left)
            laid = box(extra, 0, extra + long, wide)
            assert strips[name].buffer(1e-5).covers(laid)
            assert strips[name].bounds[2] - laid.bounds[2] == pytest.approx(extra, abs=1e-5)


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
    # A binding ⅜ in wide, sewn ⅜ in from the raw edge, which the patchwork's ¼ in leaves beyond the finished one: it
    # shows ¼ in beyond that and ⅛ in over it.
    outer = box(-0.25, -0.25, 40.25, 50.25).difference(box(0.125, 0.125, 39.875, 49.875))
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


# --- What the binding covers, and the sewn top ----------------------------------------------------------------------

EDGES = {
    "filled": {},
    "trimmed": {"edge": "trimmed"},
    "bordered": {"borders": [{"width": 1}]},
    "narrowly bordered": {"borders": [{"width": "1/8 in"}]},
    "hexagons": {"setting": "hexagons"},
    "blocks": {"setting": "eight_pointed", "piece": {"size": 3, "angle": 45}},
}


@pytest.mark.parametrize("width", ["1/8 in", "1/4 in", "3/8 in", "1/2 in"])
@pytest.mark.parametrize("name", EDGES)
def test_a_binding_wider_than_the_seam_covers_points_exactly_where_it_says_so(name, width):
    found = quilt(columns=3, rows=3, binding={"width": width}, **EDGES[name])
    binding, drawing = found["binding"], found["drawing"]
    takes = max(0, binding["width"] - 0.25)
    assert (binding["seam_taken"], binding["takes"]) == (binding["width"], takes)
    seen = box(0, 0, drawing["width"], drawing["height"]).buffer(-takes)
    patches = [
        translate(Polygon(drawing["shapes"][s]), x, y)
        for k, _, s, x, y, *_ in drawing["pieces"]
        if not drawing["kinds"][k].startswith(("border", "binding"))
    ]
    # A trimmed edge has no points to lose: it is cut through the pieces wherever it falls.
    loses = "trimmed" not in name and any(not seen.buffer(1e-5).covers(patch) for patch in patches)
    assert ("binding_takes_points" in found["cautions"]) == loses


def test_how_large_the_bound_quilt_is_by_hand():
    # The raw edge lies ¼ in beyond the finished one; a binding folded round it adds nothing to that. One of ⅛ in is
    # sewn where the finished edge is, and the rest trimmed off.
    bound = [exact(binding={"width": width})["bound"]["width"] for width in ("1/8 in", "1/4 in", "3/8 in", "1/2 in")]
    assert bound == [40.25, 40.5, 40.5, 40.5]
    assert exact()["bound"] == {"width": 40, "height": 50}


def test_a_left_pointed_edge_loses_points_and_can_have_no_border():
    found = quilt(columns=3, rows=3, edge="pointed", binding={"grain": "bias"})["cautions"]
    assert "binding_takes_points_pointed" in found and "binding_takes_points" not in found


def test_everything_round_a_measured_top_follows_it_by_hand():
    # A top of 40¼ × 50¾ in as sewn finishes 39¾ × 50¼. A border of 4 in: sides 50¾, ends 47¾ + ½ in long; finished
    # 47¾ × 58¼, so 212 in round and 222 with the tail; backing and batting 4 in larger all round.
    parts = {"borders": [{"width": 4}], "binding": {}, "backing": {}, "batting": {}}
    planned = quilt(columns=9, rows=7, **parts)
    found = quilt(columns=9, rows=7, top={"width": "40 1/4 in", "height": "50 3/4 in"}, **parts)
    cuts = [(e["kind"], e["size"], e["length"]) for e in found["cut"] if e["kind"].startswith("border")]
    assert cuts == [("border_side", 4.5, 50.75), ("border_end", 4.5, 48.25)]
    assert found["finished"] == {"width": 47.75, "height": 58.25}
    assert (found["binding"]["around"], found["binding"]["length"]) == (212, 222)
    assert (found["backing"]["width"], found["backing"]["height"]) == (55.75, 66.25)
    assert found["batting"] == {"width": 55.75, "height": 66.25, "overlap": 4}
    # What is planned stays: patchwork, pieces, drawing, and the sizes near it.
    for name in ("patchwork", "pieces", "drawing", "could_be", "sewing"):
        assert found[name] == planned[name]
    assert planned["top"] is None
    wide = planned["patchwork"]["width"] + 0.5
    assert found["top"] == {
        "width": 40.25,
        "height": 50.75,
        "planned": {"width": wide, "height": planned["patchwork"]["height"] + 0.5},
        "far": abs(40.25 - wide) > 0.03 * wide or abs(50.75 - 49.5) > 0.03 * 49.5,
    }


def test_a_top_as_planned_changes_nothing_but_what_it_says_itself():
    parts = {
        "borders": [{"width": 4, "corners": "mitered"}],
        "binding": {"grain": "bias"},
        "backing": {},
        "batting": {},
    }
    planned = quilt(columns=9, rows=7, **parts)
    top = {side: length + 0.5 for side, length in planned["patchwork"].items()}
    found = quilt(columns=9, rows=7, top=top, **parts)
    assert not found["top"]["far"] and "top_far" not in found["cautions"]
    assert found["finished"] == pytest.approx(planned["finished"])
    lengths = [[e.get("length") for e in one["cut"] if e["kind"].startswith("border")] for one in (found, planned)]
    assert lengths[0] == pytest.approx(lengths[1])


@pytest.mark.parametrize(("width", "far"), [(36.9, False), (38.2, True), (34.6, True)])
def test_a_top_far_from_its_plan_was_measured_wrongly(width, far):
    # Nine columns of 4.0415 in are 36.373 and 36.873 in as sewn; 3 % of that are 1.1 in. The bound is ours.
    found = quilt(columns=9, rows=7, top={"width": width, "height": 49.5})
    assert found["top"]["far"] == far == ("top_far" in found["cautions"])


def test_buying_follows_the_measured_top():
    request = {"piece": {"size": 4, "angle": 60}, "columns": 9, "rows": 7, "borders": [{"width": 4}], "backing": {}}
    needed = [
        {line["id"]: line["needed"] for line in answer({"ask": "buying", "quilt": one})["fabrics"]}
        for one in (request, {**request, "top": {"width": 40, "height": 60}})
    ]
    assert needed[1]["backing"] > needed[0]["backing"] and needed[1]["border_1"] >= needed[0]["border_1"]
    assert needed[1]["patchwork"] == needed[0]["patchwork"]


def test_other_sizes_of_a_class_are_cut_as_planned():
    # Whoever sews another size has measured nothing yet: a top of 60 × 70 in lengthens the first size's kit alone.
    request = {"piece": {"size": 4, "angle": 60}, "columns": 5, "rows": 4, "borders": [{"width": 4}]}
    kits = {"people": 2, "leader": 0, "sizes": [{"name": "larger", "people": 3, "columns": 9, "rows": 7}]}

    def lengths(**fields):
        lines = answer({"ask": "buying", "quilt": {**request, **fields}, "kits": kits})["fabrics"]
        (kit,) = [line["kits"] for line in lines if line["id"] == "border_1"]
        return {cut["times"]: cut["length"] for cut in kit["ways"][0]["cuts"]}

    planned, measured = lengths(), lengths(top={"width": 60, "height": 70})
    assert measured[2] > planned[2] and measured[3] == planned[3]


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
