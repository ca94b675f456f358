"""The last steps of a guide: what strips become that are joined, or that only have their ends cut;
the drawing against Shapely's.
"""

import math

import pytest
from shapely.geometry import Polygon

from matside import answer
from test_quilt_leans import cut_of, drawn, finished, mirrored, quilt, turned_onto

SASHED = {"sashing": {"width": 1}, "columns": 4, "rows": 4}


def script_of(run, **fields):
    """The guide for everything long of a sashed quilt: its script, and the needs by id."""
    found = answer({"ask": "quilt_needs", "quilt": {"piece": {"size": 4, "angle": 60}, **fields}, "usable_width": run})
    needs = [need for need in found["needs"] if "joined" in need]
    cloths = [
        {"id": "c", "length": 60, "width": run, "fabric": fabric} for fabric in {need["fabric"] for need in needs}
    ]
    plan = answer({"ask": "plan", "pieces": needs, "cloths": cloths, "grain": "any"})
    assert not any(plan["missing"].values())
    guide = answer({"ask": "guide", "pieces": needs, "cloths": cloths, "layouts": plan["layouts"]})
    assert guide["ok"], guide
    return guide["script"], {need["id"]: need for need in needs}


def steps_of(script, name):
    """The steps that finish a kind."""
    return [
        step
        for step in script["steps"]
        if script["strips"][step["strip"]]["piece"] == f"{name}/joined" and step["do"] in ("join", "finish")
    ]


def shown(script, step):
    """The piece as the step draws it, and the length and angles that it writes there; wrong
    side up, it is turned over.
    """
    scene = script["scenes"][step["scene"]]
    outline = Polygon(next(one["points"] for one in scene["still"] if one["role"] == "piece"))
    (length,) = [one["label"]["length"] for one in scene["still"] if one["role"] == "side"]
    return (mirrored(outline) if step["say"].endswith("_mirrored") else outline), length


@pytest.mark.parametrize("strips", [1, 2])
def test_a_single_strip_is_joined_to_nothing(strips):
    joined = {"length": 18, "need": strips, "takes": 3}
    piece = {"id": "sash", "shape": "rectangle", "size": 2, "length": 20, "need": strips, "joined": joined}
    laid = [
        {"x": 2 * k, "y": 0, "along": "width", "run": 20, "size": 2, "piece": "sash", "count": 1} for k in range(strips)
    ]
    cloths, layouts = [{"id": "c", "length": 12, "width": 20}], [{"cloth": "c", "strips": laid}]
    script = answer({"ask": "guide", "pieces": [piece], "cloths": cloths, "layouts": layouts})["script"]
    does = [step["do"] for step in steps_of(script, "sash")]
    assert does == ["join"] * (strips > 1) + ["finish"] * strips
    outline, _ = shown(script, steps_of(script, "sash")[-1])
    assert outline.area == pytest.approx(outline.envelope.area)  # its ends stay square


@pytest.mark.parametrize("orientation", ["standing", "lying"])
@pytest.mark.parametrize("edge", ["filled", "pointed"])
@pytest.mark.parametrize("run", [10, 20])
def test_strips_are_joined_only_where_they_are_too_short_and_become_as_many_as_are_wanted(run, edge, orientation):
    script, needs = script_of(run, **SASHED, edge=edge, orientation=orientation)
    for name, need in needs.items():
        steps, joined = steps_of(script, name), need["joined"]
        assert [step["do"] for step in steps] == ["join"] * (joined["length"] > run and need["need"] > 1) + [
            "finish"
        ] * joined["need"]
        assert (
            next(strip["planned"] for strip in script["strips"] if strip["piece"] == f"{name}/joined") == joined["need"]
        )
    # What is counted in the end are these pieces, not their strips.
    kinds = {kind["id"]: kind["counted"] for kind in script["pieces"]}
    assert all(kinds[f"{name}/joined"] and not kinds[name] for name in needs)


@pytest.mark.parametrize("orientation", ["standing", "lying"])
@pytest.mark.parametrize("edge", ["filled", "pointed"])
def test_a_finished_strip_leans_as_it_lies_in_the_quilt(edge, orientation):
    columns, rows = (3, 4) if orientation == "standing" else (4, 3)
    fields = {"edge": edge, "orientation": orientation, "columns": columns, "rows": rows, "sashing": {"width": 1}}
    script, needs = script_of(10, **fields)
    whole = quilt(**fields)
    seen = set()
    for name, need in needs.items():
        entry = next(entry for entry in whole["cut"] if entry["id"] == name)
        step = steps_of(script, name)[-1]
        outline, length = shown(script, step)
        seen.add(step["say"])
        # The drawing is shortened; its ends are not. They are put as far apart as the words say.
        size, (first, second) = need["size"], need["joined"]["ends"]
        left, _, right, _ = outline.bounds
        assert right - left == pytest.approx(min(need["joined"]["length"], 6 * size))
        for line in script["scenes"][step["scene"]]["over"]["finish"]:
            (x1, y1), (x2, y2) = line["points"]
            told = math.radians(line["label"]["degrees"])
            assert abs(math.tan(told)) == pytest.approx(abs((y2 - y1) / (x2 - x1)))
        assert length == pytest.approx(
            need["joined"]["length"] - (size / math.tan(math.radians(first)) if need["joined"]["parallel"] else 0)
        )
        stretched = lengthened(outline, need["joined"]["length"])
        places = [place for _, place in drawn(whole, "sash_long")]
        lying = sum(turned_onto(finished(stretched, 0.25), place) for place in places)
        assert lying == entry["need"] == need["joined"]["need"]
        if entry["shape"] == "parallelogram":
            assert stretched.area == pytest.approx(cut_of(entry).area)
        if first != second or need["joined"]["parallel"]:
            assert not any(turned_onto(finished(mirrored(stretched), 0.25), place) for place in places)
    ends = {"filled": ["finish_angled", "finish_parallel"], "pointed": ["finish_parallel"]}[edge]
    assert seen == {say if orientation == "standing" else f"{say}_mirrored" for say in ends}


def lengthened(outline, length):
    """The same with the right half moved until it is so long over everything."""
    left, _, right, _ = outline.bounds
    middle, by = (left + right) / 2, length - (right - left)
    return Polygon([(x + by * (x > middle), y) for x, y in outline.exterior.coords])
