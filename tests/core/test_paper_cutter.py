"""Whole cuttings in paper: a cutter who knows nothing but the guide's words cuts them, and the right pieces come out.

The cutter (`paper_cutter`) shares no code with the guide, the plan or the rulers. It is tried itself first, on scripts
written by hand; then it follows the guide's own scripts, on cloths as described and on smaller ones, and scripts with one
wrong word, which it must not be able to follow to the right end.
"""

import copy

import paper_by_hand as by_hand
import pytest
from paper_cloth import Cloth
from paper_cases import Case, drawn
from paper_cutter import Cutter, Wrong, must
from paper_doctor import DOCTORS, doctored
from paper_judge import judge
from paper_pictures import compare
from paper_words import shown as sentence_values

DIAMOND = {"piece": {"size": 4, "angle": 60}}
HAND_MADE = {
    "fat quarter": (by_hand.fat_quarter, lambda: Cloth("fat quarter", 18, 20, "length", 1), DIAMOND, 15),
    "folded": (by_hand.folded, lambda: Cloth("yardage", 9, 42, "length", 2), DIAMOND, 16),
    "divided": (by_hand.divided, lambda: Cloth("fat quarter", 18, 20, "length", 1), DIAMOND, 14),
    "triangles": (by_hand.triangles, lambda: Cloth("strip", 3, 20), {"piece": {"shape": "half-diamond", "size": 3, "angle": 60}}, 10),
    "halved": (by_hand.halved, lambda: Cloth("strip", 10, 3), {"piece": {"shape": "rectangle", "size": 3, "length": 5, "halved": [1, 1]}}, 4),
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


@pytest.mark.parametrize(("name", "change", "code"), [
    ("fat quarter", lambda s: changed(s, "place", selvage="top"), "nothing"),
    ("fat quarter", lambda s: changed(s, "place", run=20.0, across=18.0), "nothing"),
    ("fat quarter", lambda s: changed(s, "place", grain="crosswise"), "nothing"),
    ("fat quarter", lambda s: changed(s, "measure", across=20.125), "short"),
    ("fat quarter", lambda s: changed(s, "measure", run=18.125), "short"),
    ("fat quarter", lambda s: changed(s, "check_edge", at="right"), "place"),
    ("fat quarter", lambda s: without(s, "check_edge"), "square"),
    ("fat quarter", lambda s: changed(s, "strip", size=4.125), "number"),
    ("fat quarter", lambda s: changed(s, "strip", 2, size=4.125, measure=4.125), "short"),
    ("fat quarter", lambda s: changed(s, "strip", 2, k=4), "number"),
    ("fat quarter", lambda s: without(s, "strip"), "number"),
    ("fat quarter", lambda s: changed(s, "lay", run=12.0), "nothing"),
    ("fat quarter", lambda s: changed(s, "lay", end="cut"), "nothing"),
    ("fat quarter", lambda s: changed(s, "lay", at="left"), "place"),
    ("fat quarter", lambda s: changed(s, "lay", up="wrong", say="lay_wrong"), "piece"),
    ("fat quarter", lambda s: changed(s, "starter", degrees=45.0), "number"),
    ("fat quarter", lambda s: changed(s, "starter", corner="bottom", other="top"), "piece"),
    ("fat quarter", lambda s: changed(s, "starter", laid_on="left"), "place"),
    ("fat quarter", lambda s: without(s, "starter"), "nothing"),
    ("fat quarter", lambda s: changed(s, "turn", at="right"), "place"),
    ("fat quarter", lambda s: changed(s, "piece", 1, measure=4.125), "piece"),
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
    ("folded", lambda s: changed(s, "starter", say="starter_angle_line"), "selvage"),
    ("divided", lambda s: changed(s, "divide", at=8.125, measure=8.125), "number"),
    ("divided", lambda s: changed(s, "take_part", from_="right"), "place"),
    ("divided", lambda s: changed(s, "take_part", 1, turn="clockwise"), "place"),
    ("divided", lambda s: changed(s, "take_part", 1, selvage=None), "selvage"),
    ("triangles", lambda s: changed(s, "piece", 3, corner="top"), "place"),
    ("triangles", lambda s: changed(s, "piece", 3, lean="as_last"), "place"),
    ("halved", lambda s: changed(s, "halve", way="falling"), "halve"),
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
    cutter = Cutter(script, case.cloths(script), case.rulers(), room=case.less)
    for shown in cutter.steps():
        must_show(shown.step, cutter)
        if not case.less:
            compare(shown, cutter)
    judge(cutter, case.wanted, exact=not any(marked(step["say"]) for step in script["steps"]))
    return cutter


def marked(say: str) -> bool:
    """Whether a cut goes by marks at a ruler's ticks."""
    return any(way in say for way in ("mark", "bare"))


def must_show(step: dict, cutter: Cutter) -> None:
    """Every value that the sentence shows was found to be what lies there."""
    unproved = sentence_values(step) - cutter.proved
    must(not unproved, "number", f"step {cutter.at} ({step['say']}): nothing tells whether {sorted(unproved)} are right")


@pytest.mark.parametrize("seed", range(200))
def test_the_guides_words_cut_the_right_pieces(seed):
    case = drawn(seed)
    script = case.script()
    if script is not None:
        follow(case, script)


@pytest.mark.parametrize("seed", range(0, 200, 2))
def test_a_smaller_cloth_is_noticed_before_it_is_cut_or_gives_all_the_same(seed):
    case = drawn(seed)
    script = case.script()
    if script is None:
        return
    smaller = case.smaller(0.25)
    cutter = Cutter(script, smaller.cloths(script), smaller.rulers(), room=0.25)
    try:
        cutter.run()
    except Wrong as wrong:
        assert wrong.code == "short" and script["steps"][cutter.at]["do"] == "measure" and not cutter.cut_cloth, wrong
    else:
        judge(cutter, smaller.wanted, exact=not any(marked(step["say"]) for step in script["steps"]))


@pytest.mark.parametrize("doctor", DOCTORS, ids=lambda doctor: doctor.__name__)
def test_a_wrong_word_does_not_come_right(doctor):
    tried = 0
    for seed in range(40):
        case = drawn(seed)
        script = case.script()
        for i, wrong in doctored(script, doctor, seed) if script else ():
            tried += 1
            with pytest.raises((Wrong, KeyError)):
                follow(case, wrong)
                pytest.fail(f"seed {seed}, step {i}: {script['steps'][i]} said as {wrong['steps'][i]} was followed to the right end")
    assert tried > 20
