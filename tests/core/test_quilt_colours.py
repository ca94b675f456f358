"""Fabrics over the pieces: patterns, seeded random colours with no two alike touching,
single pieces changed by hand.
"""

import itertools
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import STRtree
from shapely.affinity import translate
from shapely.geometry import Polygon

from matside import answer

SETTINGS = {
    "grid": {},
    "grid trimmed": {"edge": "trimmed"},
    "grid sashed": {"sashing": {"width": 0.5}},
    "zigzag": {"setting": "zigzag"},
    "zigzag pointed": {"setting": "zigzag", "edge": "pointed", "orientation": "lying"},
    "hexagons": {"setting": "hexagons"},
    "hexagons pointed": {"setting": "hexagons", "edge": "pointed"},
    "stars": {"setting": "stars"},
    "stars trimmed": {"setting": "stars", "edge": "trimmed"},
    "stars with hexagons": {"setting": "stars", "joined_by": "hexagons", "orientation": "lying"},
    "eight pointed": {"setting": "eight_pointed", "piece": {"size": 4, "angle": 45}},
}
#: Pieces of a sashed grid lie this far apart at most, and pieces that meet in a point share no such length.
LEAST_SHARED = 0.5


def quilt(fabrics, coloring, **fields):
    common = {"ask": "quilt", "piece": {"size": 4, "angle": 60}, "columns": 3, "rows": 3}
    return answer({**common, "fabrics": [{"id": name} for name in fabrics], "coloring": coloring, **fields})


def placed(found, kinds=None):
    drawing = found["drawing"]
    names = drawing["kinds"]
    wanted = kinds or [name for name in names if not name.startswith("sash")]
    return [
        (fabric, translate(Polygon(drawing["shapes"][s]), x, y))
        for k, fabric, s, x, y, *_ in drawing["pieces"]
        if names[k] in wanted
    ]


def neighbours(pieces, apart=0.0):
    """Pairs of pieces with an edge in common: grown a little, they overlap by a long sliver
    and not just round a point.
    """
    reach = apart / 2 + 0.01
    grown = [polygon.buffer(reach, join_style="mitre") for _, polygon in pieces]
    tree = STRtree(grown)
    for first, second in zip(*tree.query(grown, predicate="intersects"), strict=True):
        if first < second and grown[first].intersection(grown[second]).length / 2 > LEAST_SHARED + 4 * apart:
            yield first, second


@pytest.mark.parametrize("name", SETTINGS)
@pytest.mark.parametrize("seed", [0, 7])
def test_at_random_no_two_alike_touch(name, seed):
    found = quilt("abc", {"way": "random", "seed": seed}, **SETTINGS[name])
    assert found["ok"], found
    pieces = placed(found)
    pairs = list(neighbours(pieces, apart=0.5 if "sashed" in name else 0.0))
    assert len(pairs) > len(pieces) / 2
    assert [pair for pair in pairs if pieces[pair[0]][0] == pieces[pair[1]][0]] == []


@pytest.mark.parametrize("name", SETTINGS)
def test_two_fabrics_are_refused_exactly_where_three_pieces_touch_each_other(name):
    found = quilt("ab", {"way": "random"}, **SETTINGS[name])
    pieces = placed(quilt("a", {"way": "single"}, **SETTINGS[name]))
    touching = set(neighbours(pieces, apart=0.5 if "sashed" in name else 0.0))
    around = {first: {b for a, b in touching if a == first} for first, _ in touching}
    triangles = any(a2 in around.get(b, ()) for a, bs in around.items() for b, a2 in itertools.permutations(bs, 2))
    assert found["ok"] != triangles
    if triangles:
        error = found["error"]
        assert (error["field"], error["code"], error["values"]["least"]) == ("coloring.fabrics", "colours_too_few", 3)


def test_one_fabric_cannot_keep_apart():
    assert quilt("a", {"way": "random"})["error"]["code"] == "colours_too_few"


def test_the_same_seed_gives_the_same_quilt_and_another_one_another():
    first, again, other = (quilt("abcd", {"way": "random", "seed": seed})["drawing"]["pieces"] for seed in (3, 3, 4))
    assert first == again != other


def test_random_colours_use_every_fabric_about_as_often():
    counts = Counter(fabric for fabric, _ in placed(quilt("abcd", {"way": "random", "seed": 5}, columns=12, rows=12)))
    assert min(counts.values()) > 0.6 * max(counts.values())


def test_the_fills_may_keep_to_one_fabric():
    found = quilt("abz", {"way": "random", "fabrics": ["a", "b"], "rest": "z"})
    assert {fabric for fabric, _ in placed(found, ["side_half", "end_half", "corner_quarter"])} == {2}
    assert {fabric for fabric, _ in placed(found, ["diamond"])} == {0, 1}


@pytest.mark.parametrize("way", ["rows", "columns"])
def test_rows_and_columns_change_from_one_to_the_next(way):
    drawing = quilt("abc", {"way": way})["drawing"]
    place = {"rows": 5, "columns": 6}[way]
    assert all(piece[1] == piece[place] % 3 for piece in drawing["pieces"])
    # Row by row the centres of the pieces lie further down, column by column further to the right.
    along = {"rows": 4, "columns": 3}[way]
    for before, after in itertools.pairwise(
        sorted({(piece[place], round(piece[along], 4)) for piece in drawing["pieces"]})
    ):
        assert before[1] <= after[1]


def test_rings_are_alike_from_the_outside_in():
    # By hand, three by three left pointed: the outer diamonds are those with a neighbour missing on some side.
    drawing = quilt("ab", {"way": "rings"}, edge="pointed")["drawing"]
    inside = {(piece[5], piece[6]) for piece in drawing["pieces"] if piece[1] == 1}
    assert inside == {(1, 1), (1, 3), (3, 1), (3, 3)}
    assert [piece[1] for piece in drawing["pieces"] if (piece[5], piece[6]) == (2, 2)] == [0]


def test_stripes_run_along_the_slanting_rows():
    drawing = quilt("abc", {"way": "stripes"}, edge="pointed")["drawing"]
    assert all(piece[1] == (piece[5] + piece[6]) // 2 % 3 for piece in drawing["pieces"])


def test_directions_give_each_diamond_of_a_hexagon_its_own_fabric():
    found = quilt("abc", {"way": "directions"}, setting="hexagons", edge="pointed")
    assert [fabric["pieces"] for fabric in found["fabrics"]] == [{"diamond": 8}] * 3  # 3 + 2 + 3 hexagons


def test_a_list_gives_every_piece_its_fabric():
    colours = [k % 3 for k in range(13)]
    found = quilt("abc", {"way": "list", "list": colours}, edge="pointed")
    assert [piece[1] for piece in found["drawing"]["pieces"]] == colours
    assert quilt("abc", {"way": "list", "list": ["a"] * 12}, edge="pointed")["error"]["code"] == "colour_list_length"


@given(st.dictionaries(st.integers(0, 24), st.sampled_from("abc"), max_size=8))
@settings(max_examples=25, derandomize=True, deadline=None)
def test_pieces_changed_by_hand_change_and_no_others(changes):
    before = quilt("abc", {"way": "rows"})["drawing"]["pieces"]
    after = quilt("abc", {"way": "rows", "changes": [list(change) for change in changes.items()]})["drawing"]["pieces"]
    for number, (old, new) in enumerate(zip(before, after, strict=True)):
        assert new[1] == ("abc".index(changes[number]) if number in changes else old[1])


def test_the_old_spelling_is_still_read_and_named_where_it_is_refused():
    whole = quilt("abc", {"way": "rings"})["drawing"]
    assert quilt("abc", None, colouring={"way": "rings"})["drawing"] == whole
    assert quilt("a", None, colouring={"way": "random"})["error"]["field"] == "colouring.fabrics"
    assert quilt("a", None, colouring={"way": "list", "list": [0]})["error"]["field"] == "colouring.list"
    assert quilt("a", {"way": "list", "list": [0]})["error"]["field"] == "coloring.list"
    assert quilt("a", None, colouring={"changes": [[999, "a"]]})["error"]["field"] == "colouring.changes"


def test_only_the_colours_may_be_asked_for():
    colouring = {"way": "random", "seed": 9}
    whole, light = quilt("abc", colouring), quilt("abc", colouring, only="colours")
    assert light["colours"] == [piece[1] for piece in whole["drawing"]["pieces"]]
    assert [fabric["count"] for fabric in light["fabrics"]] == [
        sum(fabric["pieces"].values()) for fabric in whole["fabrics"]
    ]
    assert "drawing" not in light


def test_what_goes_round_has_fabrics_of_its_own_unless_said_otherwise():
    found = quilt(
        "a", {"way": "single"}, borders=[{"width": 4}, {"width": 2, "fabric": "a"}], sashing={"width": 1}, binding={}
    )
    assert [fabric["id"] for fabric in found["fabrics"]] == ["a", "sashing", "border_1", "binding"]
    assert found["fabrics"][2]["pieces"] == {"border_side": 2, "border_end": 2}
    assert found["fabrics"][0]["pieces"]["border_side"] == 2


def test_diamonds_between_stars_may_keep_to_one_fabric():
    # Three across and two down, left pointed: 5 stars of 6 diamonds and 7 between them.
    found = quilt(
        "abz", {"way": "units", "fabrics": ["a", "b"], "joining": "z"}, setting="stars", edge="pointed", rows=2
    )
    assert [fabric["pieces"]["diamond"] for fabric in found["fabrics"]] == [18, 12, 7]


def test_every_unit_has_one_fabric():
    drawing = quilt("ab", {"way": "units"}, setting="hexagons", edge="pointed")["drawing"]
    by_unit = {}
    for piece in drawing["pieces"]:
        by_unit.setdefault((piece[5], piece[6]), set()).add(piece[1])
    assert [len(fabrics) for fabrics in by_unit.values()] == [1] * 8
    assert [fabric for _, (fabric,) in sorted(by_unit.items())] == [0, 1] * 4


# --- What each setting offers ---------------------------------------------------------------------------------------

PIECES = {"eight_pointed": {"size": 4, "angle": 45}}
OFFERS = {setting["code"]: setting for setting in answer({"ask": "quilt_choices"})["settings"]}
SIZES = [{"columns": 3, "rows": 3}, {"columns": 4, "rows": 5}, {"columns": 5, "rows": 4}]


def partition(setting, way, size, fabrics="abc"):
    """Which pieces are alike, however the fabrics are called."""
    piece = PIECES.get(setting, {"size": 4, "angle": 60})
    found = quilt(fabrics, {"way": way}, setting=setting, piece=piece, **size)["drawing"]["pieces"]
    return frozenset(
        frozenset(number for number, row in enumerate(found) if row[1] == fabric)
        for fabric in {row[1] for row in found}
    )


@pytest.mark.parametrize("setting", OFFERS)
def test_every_way_that_a_setting_offers_shows_more_than_one_fabric_and_no_two_are_the_same(setting):
    ways = [one["way"] for one in OFFERS[setting]["colorings"]]
    assert len(ways) == len(set(ways)) and OFFERS[setting]["start"]["way"] == ways[0]
    found = {way: [partition(setting, way, size) for size in SIZES] for way in ways}
    for way, parts in found.items():
        assert [len(part) > 1 for part in parts] == [way != "single"] * len(SIZES), way
    for one, other in itertools.combinations(ways, 2):
        assert found[one] != found[other], f"{one} places the fabrics as {other} does"


@pytest.mark.parametrize("orientation", ["standing", "lying"])
def test_light_medium_and_dark_meet_at_every_hexagons_middle(orientation):
    (way,) = [one for one in OFFERS["hexagons"]["colorings"] if one["roles"]]
    assert (way["way"], way["name"], way["roles"]) == ("directions", "light_medium_dark", ["light", "medium", "dark"])
    found = quilt("abc", {"way": way["way"]}, setting="hexagons", edge="pointed", orientation=orientation)
    corners = {}
    for fabric, outline in placed(found, ["diamond"]):
        for x, y in outline.exterior.coords[:-1]:
            corners.setdefault((round(x, 2), round(y, 2)), set()).add((fabric, outline.wkb))
    # At a hexagon's middle just three diamonds meet, all with their blunt corners.
    threes = [meeting for meeting in corners.values() if len(meeting) == 3]
    assert len(threes) >= 8
    assert all({fabric for fabric, _ in meeting} == {0, 1, 2} for meeting in threes)


@pytest.mark.parametrize("joined_by", ["diamonds", "hexagons"])
@pytest.mark.parametrize("setting", OFFERS)
def test_what_a_setting_starts_with_keeps_its_background_apart(setting, joined_by):
    start = OFFERS[setting]["start"]
    background = {part: "z" for part in ("rest", "joining") if start[part]}
    found = quilt(
        "abz",
        {"way": start["way"], "fabrics": ["a", "b"], **background},
        setting=setting,
        piece=PIECES.get(setting, {"size": 4, "angle": 60}),
        joined_by=joined_by,
    )
    by_fabric = [fabric["pieces"] for fabric in found["fabrics"]]
    assert all("diamond" in pieces for pieces in by_fabric[:2])
    if setting in ("stars", "eight_pointed", "zigzag"):
        assert all(set(pieces) == {"diamond"} for pieces in by_fabric[:2]) and by_fabric[2]
    if setting == "stars":
        # Six diamonds a star in one fabric; those between are of the background.
        assert by_fabric[2]["diamond"] > 0
