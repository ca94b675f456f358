"""The codes of places and labels have their words, and the words their codes."""

import json
from pathlib import Path

import matside
from matside.guide.codes import LABELS, PLACES

GUIDE = json.loads((Path(matside.__file__).parent / "words" / "en" / "guide.json").read_text("utf-8"))["guide"]


def test_every_place_and_every_label_has_its_words_and_no_words_are_left_over():
    assert set(GUIDE["place"]) == set(PLACES)
    assert set(GUIDE["label"]) == set(LABELS)


def test_what_is_labelled_in_a_drawing_is_among_them():
    script = matside.answer({"ask": "guide", "piece": {"size": 4, "angle": 60}, "cloth": {"kind": "fat_quarter"}})["script"]
    shapes = [shape for scene in script["scenes"] for part in (scene["still"], *scene["over"].values()) for shape in part]
    words = {shape["label"]["word"] for shape in shapes if "word" in shape.get("label", {})}
    assert shapes and words <= set(LABELS)
