"""Whole cuttings in paper: a cutter who knows nothing but the guide's words cuts them, and the right pieces come out.

The cutter (`paper_cutter`) shares no code with the guide, the plan or the rulers. It is tried itself first, on scripts
written by hand; then it follows the guide's own scripts, on cloths as described and on smaller ones, and scripts with
one wrong word, which it must not be able to follow to the right end."""

import copy
from dataclasses import replace

import pytest

import paper_by_hand as by_hand
from amounts import some
from paper_cases import LONG, PLAIN, SPECIAL, TIGHT, Case, drawn
from paper_cloth import Cloth
from paper_cutter import Cutter
from paper_doctor import DOCTORS, doctored
from paper_judge import judge
from paper_pictures import compare
from paper_table import Wrong, must
from paper_words import shown as sentence_values

DIAMOND = {"piece": {"size": 4, "angle": 60}}
HAND_MADE = {
    "fat quarter": (by_hand.fat_quarter, lambda: Cloth("fat quarter", 18, 20, "length", 1), DIAMOND, 15),
    "folded": (by_hand.folded, lambda: Cloth("yardage", 9, 42, "length", 2), DIAMOND, 16),
    "divided": (by_hand.divided, lambda: Cloth("fat quarter", 18, 20, "length", 1), DIAMOND, 14),
    "triangles": (
        by_hand.triangles,
        lambda: Cloth("strip", 3, 20),
        {"piece": {"shape": "half-diamond", "size": 3, "angle": 60}},
        10,
    ),
    "halved": (
        by_hand.halved,
        lambda: Cloth("strip", 10, 3),
        {"piece": {"shape": "rectangle", "size": 3, "length": 5, "halved": [1, 1]}},
        4,
    ),
}


def cut(script: dict, cloth: Cloth, wanted: dict) -> Cutter:
    cutter = Cutter(script, [cloth], [by_hand.USUAL]).run()
    judge(cutter, wanted)
    return cutter


@pytest.mark.parametrize("name", HAND_MADE)
def test_the_cutter_cuts_what_a_script_says(name):
    write, cloth, wanted, pieces = HAND_MADE[name]
    cutter = cut(write(), cloth(), wanted)
    assert (len(cutter.pile), cutter.counted) == (pieces, pieces)


def changed(script: dict, do: str, nth: int = 0, say: str | None = None, **values) -> dict:
    """A script with other values in its nth step that does this."""
    script = copy.deepcopy(script)
    step = [step for step in script["steps"] if step["do"] == do][nth]
    step["values"].update({name.removesuffix("_"): value for name, value in values.items()})
    step["say"] = say or step["say"]
    return script


def without(script: dict, do: str) -> dict:
    script = copy.deepcopy(script)
    script["steps"].remove(next(step for step in script["steps"] if step["do"] == do))
    return script


@pytest.mark.every(2)
@pytest.mark.parametrize(("name", "change", "code"), [
    ("fat quarter", lambda s: changed(s, "place", selvage="top"), "nothing"),
    ("fat quarter", lambda s: changed(s, "place", run=20.0, across=18.0), "nothing"),
    ("fat quarter", lambda s: changed(s, "place", grain="crosswise"), "nothing"),
    ("fat quarter", lambda s: changed(s, "measure", across=20.125), "short"),
    ("fat quarter", lambda s: changed(s, "measure", run=18.125), "short"),
    ("fat quarter", lambda s: changed(s, "check_edge", at="right"), "place"),
    ("fat quarter", lambda s: without(s, "check_edge"), "square"),
    ("fat quarter", lambda s: changed(s, "strip", size=4.125), "number"),
    ("fat quarter", lambda s: changed(s, "strip", 2, size=4.125, **by_hand.line(4.125)), "short"),
    ("fat quarter", lambda s: changed(s, "strip", 2, k=4), "number"),
    ("fat quarter", lambda s: without(s, "strip"), "number"),
    ("fat quarter", lambda s: changed(s, "lay", run=12.0), "nothing"),
    ("fat quarter", lambda s: changed(s, "lay", end="cut"), "nothing"),
    ("fat quarter", lambda s: changed(s, "lay", at="left"), "place"),
    ("fat quarter", lambda s: changed(s, "lay", up="wrong", say="take_wrong"), "piece"),
    ("fat quarter", lambda s: changed(s, "starter", degrees=45.0), "number"),
    ("fat quarter", lambda s: changed(s, "starter", corner="bottom", other="top"), "piece"),
    ("fat quarter", lambda s: changed(s, "starter", laid_on="left"), "place"),
    ("fat quarter", lambda s: without(s, "starter"), "nothing"),
    ("fat quarter", lambda s: changed(s, "turn", at="right"), "place"),
    ("fat quarter", lambda s: changed(s, "piece", 1, **by_hand.line(4.125)), "piece"),
    ("fat quarter", lambda s: changed(s, "piece", 1, lean="other_way"), "lean"),
    ("fat quarter", lambda s: changed(s, "piece", 1, degrees=45.0), "number"),
    ("fat quarter", lambda s: changed(s, "strip_done", n=4), "number"),
    ("folded", lambda s: changed(s, "fold", say="fold_ends"), "fold"),
    ("folded", lambda s: changed(s, "fold", after=20.5), "number"),
    ("folded", lambda s: changed(s, "half_turn", fold=None), "fold"),
    ("folded", lambda s: without(s, "half_turn"), "square"),
    ("folded", lambda s: changed(s, "measure", across=7.0), "number"),
    ("folded", lambda s: without(s, "unfold"), "fold"),
    ("folded", lambda s: changed(s, "unfold", strips=1), "number"),
    ("folded", lambda s: changed(s, "starter", say="start_angle_line"), "selvage"),
    ("divided", lambda s: changed(s, "divide", at=8.125, **by_hand.line(8.125)), "number"),
    ("divided", lambda s: changed(s, "take_part", from_="right"), "place"),
    ("divided", lambda s: changed(s, "take_part", 1, turn="clockwise"), "place"),
    ("divided", lambda s: changed(s, "take_part", 1, selvage=None), "selvage"),
    ("triangles", lambda s: changed(s, "piece", 3, corner="top"), "place"),
    ("triangles", lambda s: changed(s, "piece", 3, lean="as_last"), "lean"),
    ("halved", lambda s: changed(s, "halve", first="upper_left", second="lower_right"), "halve"),
    ("halved", lambda s: without(s, "end"), "square"),
    ("halved", lambda s: changed(s, "halve", n=2), "nothing"),
])  # fmt: skip
def test_the_cutter_does_not_come_right_by_wrong_words(name, change, code):
    write, cloth, wanted, _ = HAND_MADE[name]
    with pytest.raises(Wrong) as wrong:
        cut(change(write()), cloth(), wanted)
    assert wrong.value.code == code, wrong.value


# --- The guide's own scripts ------------------------------------------------------------------------------------------


def follow(case: Case, script: dict) -> Cutter:
    """Cuts a case's cloths by a script, looking at every drawing and at every number of every sentence on the way."""
    cutter = Cutter(script, case.cloths(script), case.rulers())
    for shown in cutter.steps():
        must_show(shown.step, cutter)
        compare(shown, cutter)
    judge(cutter, case.wanted, exact=exact(script))
    return cutter


def exact(script: dict) -> bool:
    """Whether no cut goes by marks at a ruler's ticks."""
    return not any(way in step["say"] for step in script["steps"] for way in ("mark", "bare"))


def must_show(step: dict, cutter: Cutter) -> None:
    """Every value that the sentence shows was found to be what lies there."""
    unproved = sentence_values(step) - cutter.proved
    must(
        not unproved, "number", f"step {cutter.at} ({step['say']}): nothing tells whether {sorted(unproved)} are right"
    )


@pytest.mark.every(2)
@pytest.mark.parametrize("seed", some(range(200), 20))
def test_the_guides_words_cut_the_right_pieces(seed):
    case = drawn(seed)
    script = case.script()
    if script is None:
        pytest.skip("nothing can be cut from it")
    follow(case, script)


@pytest.mark.long
@pytest.mark.parametrize("name", SPECIAL)
def test_halved_and_joined_pieces_stacks_and_long_cloths_come_out_as_told(name):
    case = SPECIAL[name]()
    follow(case, case.script())


@pytest.mark.parametrize("seed", some(range(0, 180, 2), 12))
def test_a_smaller_cloth_is_noticed_before_it_is_cut_or_gives_all_the_same(seed):
    case = drawn(seed).smaller(0.25)
    script = case.script()
    if script is None:
        pytest.skip("nothing can be cut from it")
    cutter = Cutter(script, case.cloths(script), case.rulers(), room=0.25, sliver=1 / 4 if seed % 4 else 1 / 8)
    try:
        cutter.run()
    except Wrong as wrong:
        assert wrong.code == "short" and script["steps"][cutter.at]["do"] == "measure" and not cutter.cut_cloth, wrong
    else:
        judge(cutter, case.wanted, exact=exact(script))


@pytest.mark.every(2)
@pytest.mark.parametrize("seed", some(range(1, 180, 3), 12))
def test_what_is_measured_first_is_as_much_as_is_needed_and_no_more(seed):
    case = drawn(seed)
    script = case.script()
    if script is None:
        pytest.skip("nothing can be cut from it")
    cloths, tight = just_enough(case, script)
    cutter = Cutter(script, cloths, case.rulers(), room=1 / 2, sliver=1 / 4).run()
    judge(cutter, case.wanted, exact=exact(script))
    if tight:  # an eighth less, and less asked for: now something is missing
        asked = asking_less(script, 1 / 8)
        with pytest.raises(Wrong):
            judge(
                Cutter(asked, just_enough(case, asked)[0], case.rulers(), room=5 / 8, sliver=1 / 4).run(), case.wanted
            )


def just_enough(case: Case, script: dict) -> tuple[list[Cloth], bool]:
    """Cloths whose sides are what the script wants them to be at least (half an inch smaller than
    described at most); whether one is.
    """
    cloths, layers, upright, tight = case.cloths(script), 1, "length", False
    for step in script["steps"]:
        cloth, values = cloths[step["cloth"]], step["values"]
        if step["do"] == "place":
            upright, layers = values["upright"], 1
        elif step["do"] == "fold":
            layers *= 2
        elif step["say"] == "measure":
            needs = {upright: values["run"] * layers, "width" if upright == "length" else "length": values["across"]}
            if cloth.lengthwise is None and cloth.length == cloth.width:  # nothing tells its sides apart
                needs = dict.fromkeys(needs, max(needs.values()))
            for side, need in needs.items():
                tight |= need > getattr(cloth, side) - 1 / 2
                setattr(cloth, side, max(need, getattr(cloth, side) - 1 / 2))
    return cloths, tight


def asking_less(script: dict, less: float) -> dict:
    script = copy.deepcopy(script)
    for step in script["steps"]:
        if step["say"] == "measure":
            step["values"].update(run=step["values"]["run"] - less, across=step["values"]["across"] - less)
    return script


_PAIRS = (
    ("left", "right"),
    ("lower_left", "lower_right"),
    ("upper_left", "upper_right"),
    ("clockwise", "anticlockwise"),
)
LEFT = {one: other for pair in _PAIRS for one, other in (pair, pair[::-1])}
#: Values that do not tell where something lies: which side is up may differ between the hands,
#: and so may the ruler's way.
NO_PLACES = ("up", "way")


@pytest.mark.parametrize("seed", [4, 8, 24, 36, 52, 61, 76, 93, 112, 140])
def test_a_left_hands_guide_is_the_right_hands_in_the_mirror(seed):
    case = drawn(seed)
    right, left = (
        replace(case, request={**case.request, "hand": hand, "rulers": [PLAIN, LONG]}).script()
        for hand in ("right", "left")
    )
    assert [mirrored(step) for step in right["steps"]] == [plain(step) for step in left["steps"]]
    assert [seen(scene, -1) for scene in right["scenes"]] == [seen(scene, 1) for scene in left["scenes"]]


def mirrored(step: dict) -> tuple:
    do, say, values = plain(step)
    return (
        do,
        say,
        {name: LEFT.get(value, value) if isinstance(value, str) else value for name, value in values.items()},
    )


def plain(step: dict) -> tuple:
    return (
        step["do"],
        step["say"].removesuffix("_wrong"),
        {name: value for name, value in step["values"].items() if name not in NO_PLACES},
    )


def seen(scene: dict, side: int) -> list:
    """All that a scene may show, but for the order of the corners and the noise."""
    shapes = [
        *scene["still"],
        *({"role": "piece", "points": points} for points in scene["pieces"]),
        *(s for over in scene["over"].values() for s in over),
    ]
    return sorted(
        (s["role"], str(s.get("label")), sorted((round(side * x, 6) + 0.0, round(y, 6) + 0.0) for x, y in s["points"]))
        for s in shapes
    )


@pytest.mark.long
@pytest.mark.every(2)
@pytest.mark.parametrize("doctor", DOCTORS, ids=lambda doctor: doctor.__name__)
def test_a_wrong_word_does_not_come_right(doctor):
    tried = 0
    for seed in some(range(24), 5):
        case = drawn(seed)
        script = case.script()
        for i, wrong in doctored(script, doctor, seed, most=2) if script else ():
            tried += 1
            with pytest.raises((Wrong, KeyError)):
                follow(case, wrong)
                pytest.fail(
                    f"seed {seed}, step {i}: {script['steps'][i]} was followed to the right end with another word"
                )
    assert tried >= 2


def test_a_straight_end_is_not_labeled_as_a_slanted_one():
    case = drawn(20)
    script = case.script()
    turn = next(step for step in script["steps"] if step["say"] == "turn_straight")
    scene = script["scenes"][turn["scene"]]
    words = [
        shape["label"].get("word")
        for shape in (*scene["still"], *scene["over"].get(turn["over"], []))
        if shape.get("label")
    ]
    assert "squared_edge" in words and "slanted_end" not in words


@pytest.mark.parametrize("name", TIGHT)
def test_a_strip_with_nothing_to_spare_gives_all_its_pieces(name):
    case = TIGHT[name]()
    script = case.script()
    cutter = Cutter(script, case.cloths(script), case.rulers()).run()
    judge(cutter, case.wanted, exact=exact(script))
    assert cutter.counted == 9


@pytest.mark.long
def test_where_all_strips_of_a_width_are_as_long_none_is_told_by_its_length():
    told = 0
    for seed in some(range(0, 200, 3), 2):
        script = drawn(seed).script() or {"steps": [], "strips": []}
        lain = [(script["strips"][step["strip"]], step) for step in script["steps"] if step["do"] == "lay"]
        lengths: dict[tuple, set] = {}
        for strip, step in lain:
            lengths.setdefault((strip["cloth"], strip["size"]), set()).add(round(step["values"]["run"], 6))
        for strip, step in lain:
            several = len(lengths[strip["cloth"], strip["size"]]) > 1
            assert step["values"]["other_runs"] == several, (seed, step)
            told += not several
    assert told


def test_where_strips_of_several_lengths_lie_the_sentence_tells_which():
    unclear = []
    for seed in range(0, 200, 3):
        for step in (drawn(seed).script() or {"steps": []})["steps"]:
            if step["do"] == "lay" and step["values"]["other_runs"] and "run" not in sentence_values(step):
                unclear.append((seed, step["say"]))
    assert not unclear
