"""Pieces on a grain of their own: a border's strips run one way of the cloth, whatever else is cut from it; plans
against patterns written out with that rule, and CP-SAT."""

import random
from fractions import Fraction

import pytest

import all_patterns
from matside import answer
from matside.fields import Fields
from matside.pieces import read_piece

OTHER = {"length": "width", "width": "length"}
#: With the selvage along the length, the side that strips of a grain run along.
SIDE = {"lengthwise": "length", "crosswise": "width"}


def plan(pieces, cloths, **fields):
    found = answer({"ask": "plan", "pieces": pieces, "cloths": cloths, **fields})
    assert found["ok"], found["error"]
    return found


def patterns_with(grains):
    """Patterns as `all_patterns` writes them out, of kinds that may run along some sides only."""

    def patterns_of(length, width, kinds):
        allowed = {
            side: [
                kind if grain == "any" or SIDE[grain] == side else (*kind[:3], 0) for kind, grain in zip(kinds, grains)
            ]
            for side in OTHER
        }
        found = set()
        for side, run, across in (("length", length, width), ("width", width, length)):
            found |= {*all_patterns._rectangle(run, across, allowed[side])}
            for at in all_patterns._places(run, allowed[side]):
                first = all_patterns._rectangle(at, across, allowed[side])
                rest = (
                    all_patterns._rectangle(run - at, across, allowed[side]),
                    all_patterns._rectangle(across, run - at, allowed[OTHER[side]]),
                )
                found |= {
                    tuple(min(a + b, kind[3]) for a, b, kind in zip(one, other, kinds))
                    for one in first
                    for second in rest
                    for other in second
                }
        return all_patterns._undominated(found)

    return patterns_of


def basket(seed):
    dice = random.Random(seed)
    pieces = [
        {"id": "diamond", "shape": "diamond", "size": 4, "angle": 60, "need": dice.randint(4, 16)},
        {
            "id": "side",
            "shape": "rectangle",
            "size": "3.5",
            "length": dice.randint(14, 30),
            "need": dice.randint(1, 4),
            "grain": "lengthwise",
        },
        {
            "id": "end",
            "shape": "rectangle",
            "size": 3,
            "length": dice.randint(10, 24),
            "need": dice.randint(1, 3),
            "grain": dice.choice(["lengthwise", "crosswise"]),
        },
    ]
    sides = [(dice.randint(12, 36), dice.randint(12, 30), dice.randint(1, 2)) for _ in range(2)]
    cloths = [
        {"id": f"c{k}", "length": length, "width": width, "count": count, "selvage": "length"}
        for k, (length, width, count) in enumerate(sides)
    ]
    return pieces, cloths, sides


def sides_of(found):
    """The sides that the strips of each need run along."""
    sides = {}
    for layout in found["layouts"]:
        for strip in layout["strips"]:
            sides.setdefault(strip["piece"], set()).add(strip["along"])
    return sides


@pytest.mark.parametrize("seed", range(16))
def test_plans_with_grains_are_the_best_that_written_out_patterns_give(seed, monkeypatch):
    pieces, cloths, sides = basket(seed)
    found = plan(pieces, cloths)
    assert found["proven"]
    grains = [piece.get("grain", "any") for piece in pieces]
    for piece, grain in zip(pieces, grains, strict=True):
        assert grain == "any" or sides_of(found).get(piece["id"], set()) <= {SIDE[grain]}
    monkeypatch.setattr(all_patterns, "patterns_of", patterns_with(grains))
    shapes = [read_piece(Fields(piece)) for piece in pieces]
    missing, opened = all_patterns.best_plan(shapes, [piece["need"] for piece in pieces], sides)
    assert found["missing_area"] == pytest.approx(missing, abs=1e-3)
    assert found["area_opened"] == opened


@pytest.mark.parametrize("grain", ["lengthwise", "crosswise"])
def test_pieces_that_all_ask_for_a_grain_are_planned_as_when_it_is_asked_for_throughout(grain):
    for seed in range(6):
        pieces, cloths, _ = basket(seed)
        bare = [{name: value for name, value in piece.items() if name != "grain"} for piece in pieces]
        each, all_of_them = plan([{**piece, "grain": grain} for piece in bare], cloths), plan(bare, cloths, grain=grain)
        assert each["made"] == all_of_them["made"] and each["area_opened"] == all_of_them["area_opened"]


def test_what_the_grain_keeps_from_being_cut_says_so():
    strip = {"id": "s", "shape": "rectangle", "size": 3, "length": 30, "need": 1}
    cloth = {"id": "c", "length": 36, "width": 20, "selvage": "length"}
    assert plan([{**strip, "grain": "lengthwise"}], [cloth])["made"] == {"s": 1}
    (unmet,) = plan([{**strip, "grain": "crosswise"}], [cloth])["unmet"]
    assert (unmet["piece"], unmet["reason"]) == ("s", "grain")
    unknown = {**cloth, "selvage": "none"}
    assert plan([{**strip, "grain": "lengthwise"}], [unknown])["made"] == {"s": 0}


# --- From the quilt to the plan -----------------------------------------------------------------------------------------

QUILT = {"piece": {"size": 6, "angle": 60}, "columns": 6, "rows": 5, "fabrics": [{"id": "ink"}]}


@pytest.mark.parametrize("corners", ["butted", "mitered"])
@pytest.mark.parametrize("grain", ["lengthwise", "crosswise"])
def test_a_borders_strips_share_the_grain_that_it_asks_for(grain, corners):
    border = {"width": 3, "fabric": "ink", "corners": corners}
    cloth = {"id": "y", "fabric": "ink", "length": "2 yd", "width": 42, "count": 3, "selvage": "length"}
    for asked in (grain, None):
        borders = [{**border, **({"grain": asked} if asked else {})}]
        needs = answer({"ask": "quilt_needs", "quilt": {**QUILT, "borders": borders}, "cloths": [cloth]})["needs"]
        of_border = [need for need in needs if need["id"].startswith("border")]
        assert [need.get("grain") for need in of_border] == [asked] * 2
        # Strips that are too short for the border are joined from strips as long as the cloth is that way.
        joined = {need["length"] for need in of_border if "joined" in need}
        assert joined <= {72 if asked == "lengthwise" else 42}
        if asked:
            found = plan(needs, [cloth])
            assert set(found["missing"].values()) == {0}
            sides = sides_of(found)
            assert {side for need in of_border for side in sides[need["id"]]} == {SIDE[grain]}


def test_a_border_asks_for_no_grain_unless_it_is_given_one():
    told = answer({"ask": "quilt", **QUILT, "borders": [{"width": 3}]})["cut"]
    assert not any("grain" in entry for entry in told)
    refused = answer({"ask": "quilt", **QUILT, "borders": [{"width": 3, "grain": "bias"}]})["error"]
    assert (refused["field"], refused["code"]) == ("borders[0].grain", "choice")
    assert answer({"ask": "quilt_choices"})["border_grains"] == ["any", "lengthwise", "crosswise"]
    assert Fraction(told[-1]["size"]) == Fraction(7, 2)
