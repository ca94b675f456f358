"""What a leader prepares, against the buying list, the rulers' own answers, sums over all hands, and figures worked by hand."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from amounts import examples, some
from matside import answer

DIAMOND = {"id": "d", "size": 4, "angle": 60, "need": 40, "fabric": "rose"}
QUILT = {
    "piece": {"size": 4, "angle": 60},
    "columns": 5,
    "rows": 6,
    "edge": "filled",
    "borders": [{"width": 3, "fabric": "f1"}],
    "binding": {"fabric": "f1"},
    "backing": {},
    "batting": {},
    "fabrics": [{"id": "f1"}, {"id": "f2"}],
    "drawing": False,
}


def prepared(**fields) -> dict:
    found = answer({"ask": "class_plan", "kits": {"people": 12}, **fields})
    assert found["ok"], found["error"]
    return found


def pieces_of(piles: list[dict]) -> Counter:
    return sum((Counter(pile["gives"]) for pile in piles), Counter())


def wanted(**fields) -> Counter:
    """What one of them wants of every kind, without strips that are joined."""
    lines = answer({"ask": "buying", **fields})["fabrics"]
    joined = {name for line in lines for strips in line["strips"] if strips["joined"] for name in strips["gives"]}
    return Counter(
        {name: need for line in lines for name, need in line["wanted"].items() if name not in joined and need}
    )


KINDS = st.lists(
    st.tuples(st.sampled_from([2, 2.5, 3, 4]), st.integers(1, 60), st.sampled_from("ab")), min_size=1, max_size=5
)


def pieces(kinds) -> list[dict]:
    return [
        {"id": str(n), "shape": "diamond", "size": size, "angle": 60, "need": need, "fabric": fabric}
        for n, (size, need, fabric) in enumerate(kinds)
    ]


@given(KINDS, st.integers(1, 9))
@settings(max_examples=examples(15, 4), derandomize=True, deadline=None, database=None)
def test_the_weeks_add_up_to_the_whole_and_are_even(kinds, weeks):
    found = prepared(pieces=pieces(kinds), weeks=weeks)["weeks"]
    assert sum((pieces_of(week["cut"]) for week in found), Counter()) == wanted(pieces=pieces(kinds))
    strips = [week["strips"] for week in found]
    assert len(found) == weeks and max(strips) - min(strips) <= 1
    assert all(week["strips"] == sum(pile["strips"] for pile in week["cut"]) for week in found)


@given(KINDS, st.integers(2, 9))
@settings(max_examples=examples(15, 4), derandomize=True, deadline=None, database=None)
def test_all_that_is_cut_for_a_swap_is_taken_again(kinds, people):
    found = prepared(pieces=pieces(kinds), kits={"people": people}, swap=True)["swap"]
    cut = sum((pieces_of(cutter["cut"]) for cutter in found["cutters"]), Counter())
    take = Counter({line["id"]: line["pieces"] for line in found["take"]})
    assert take == wanted(pieces=pieces(kinds))
    assert cut == Counter({name: count * people for name, count in take.items()})
    strips = [cutter["strips"] for cutter in found["cutters"]]
    assert len(strips) == people and max(strips) - min(strips) <= 1


def test_a_whole_quilt_is_portioned_with_what_goes_round_it_last():
    found = prepared(quilt=QUILT, weeks=4)["weeks"]
    assert sum((pieces_of(week["cut"]) for week in found), Counter()) == wanted(quilt=QUILT)
    joined = [pile["joined"] for week in found for pile in week["cut"]]
    assert joined == sorted(joined) and joined[-1]


def test_the_time_by_hand():
    # 40 diamonds of 4 in, eight to a strip of 42 in: five strips. At six a minute 6 min 40 s, and 5 min for the strips.
    assert prepared(pieces=[DIAMOND])["time"] == {"strips": 5, "pieces": 40, "minutes": 12, "pace": 6}
    # Eight a minute take 5 min, strips of half a minute 2 min 30 s.
    assert prepared(pieces=[DIAMOND], pace=8, strip_seconds=30)["time"]["minutes"] == 8
    minutes = [prepared(pieces=[{**DIAMOND, "need": need}])["time"]["minutes"] for need in some(range(1, 60), 3)]
    assert minutes == sorted(minutes)


@pytest.mark.parametrize("piece", [{"size": 4, "angle": 60}, {"size": 8, "angle": 45}, {"size": "13", "angle": 60}])
def test_the_ruler_named_is_the_smallest_that_will_do(piece):
    """By the ask `rulers`, ruler by ruler: what it names cuts the piece alone, and nothing smaller does."""
    mine = answer({"ask": "my_rulers"})["rulers"]
    named = next(tool for tool in prepared(pieces=[{**DIAMOND, **piece}])["tools"] if "ruler" in tool["code"])
    lacking = {
        ruler["name"]: answer({"ask": "rulers", "piece": piece, "rulers": [asked(ruler)]})["lacking"] for ruler in mine
    }
    alone = [ruler for ruler in mine if not lacking[ruler["name"]]]
    if not alone:
        assert named["code"] == "no_ruler" or len(named["rulers"]) == 2
        return
    smallest = min(alone, key=lambda ruler: ruler["width"] * ruler["length"])
    assert [ruler["name"] for ruler in named["rulers"]] == [smallest["name"]]
    assert named["rulers"][0]["lines"] == sorted({line["degrees"] for line in smallest["angles"]})
    left = [asked(ruler) for ruler in mine if ruler["name"] not in {one["name"] for one in alone}]
    others = prepared(pieces=[{**DIAMOND, **piece}], rulers=left)["tools"]
    assert all(len(tool["rulers"]) != 1 for tool in others)


def asked(ruler: dict) -> dict:
    """A ruler as it was answered, as it is asked with."""
    return {name: ruler[name] for name in ("name", "width", "length", "angles") if name in ruler}


def test_tools_for_all_and_those_that_are_shared():
    tools = {tool["code"]: tool for tool in prepared(pieces=[DIAMOND], kits={"people": 9})["tools"]}
    assert [tools[code]["count"] for code in ("cutter", "mat", "rulers", "glove", "iron")] == [9, 9, 9, 9, 3]
    six = prepared(pieces=[DIAMOND], kits={"people": 9}, share_an_iron=6)["tools"]
    assert next(tool["count"] for tool in six if tool["code"] == "iron") == 2


def test_the_supply_list_is_the_buying_list_of_one():
    fabrics = [{"id": "f2", "sold": "fat_quarter"}]
    supplies = prepared(quilt=QUILT, fabrics=fabrics)["supplies"]
    alone = answer({"ask": "buying", "quilt": QUILT, "fabrics": fabrics})
    lines = [line for line in alone["fabrics"] if line["reason"] != "nothing_needed"]
    assert [(line["id"], line["buy"], line["quarters"]) for line in supplies["fabrics"]] == [
        (line["id"], line["buy"], line["fat_quarters"]["count"]) for line in lines
    ]
    assert supplies["batting"] == alone["batting"]


def test_a_label_says_what_is_in_the_kit():
    # 40 diamonds of 4 in: five strips, 20 in and 1 in to straighten, sold as 22 1/2.
    labels = prepared(pieces=[DIAMOND])["labels"]
    assert labels["whole"] == [{"fabric": "rose", "lines": [{"length": 22.5}]}]
    assert labels["pieces"] == [{"fabric": "rose", "lines": [{"pieces": 40, "id": "d"}]}]
    (strips,) = labels["strips"][0]["lines"]
    assert (strips["size"], strips["strips"], strips["gives"]) == (4, 5, {"d": 40})
    # Fifteen from a fat quarter that is used as it is: common practice, no published source; three for 40.
    quarters = prepared(pieces=[DIAMOND], fabrics=[{"id": "rose", "sold": "fat_quarter"}], square=0)
    assert quarters["labels"]["whole"] == [{"fabric": "rose", "lines": [{"quarters": 3}]}]


def test_a_label_of_a_whole_quilt_leaves_nothing_out():
    labels = prepared(quilt=QUILT)["labels"]
    for made_as in ("strips", "pieces"):
        lines = [line for fabric in labels[made_as] for line in fabric["lines"]]
        counted = pieces_of([line for line in lines if "gives" in line])
        counted += Counter({line["id"]: line["pieces"] for line in lines if "pieces" in line})
        assert counted == wanted(quilt=QUILT)
        assert [line["id"] for line in lines if "panel" in line] == ["backing"]
        joined = sum(line["strips"] for line in lines if line.get("joined"))
        bought = answer({"ask": "buying", "quilt": QUILT})["fabrics"]
        assert joined == sum(strips["times"] for line in bought for strips in line["strips"] if strips["joined"])


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"kits": None}, "kits"),
        ({"weeks": 0}, "weeks"),
        ({"pace": 0}, "pace"),
        ({"pace": "quick"}, "pace"),
        ({"strip_seconds": -1}, "strip_seconds"),
        ({"share_an_iron": 0}, "share_an_iron"),
        ({"swap": True, "kits": {"people": 1}}, "kits.people"),
        ({"swap": True, "kits": {"people": 61}}, "kits.people"),
        ({"hand": "both"}, "hand"),
    ],
)
def test_what_does_not_fit_is_refused_at_its_field(fields, field):
    found = answer({"ask": "class_plan", "pieces": [DIAMOND], "kits": {"people": 12}, **fields})
    assert not found["ok"] and found["error"]["field"] == field
