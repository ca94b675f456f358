"""Wrong words on purpose: copies of a script with one step said otherwise."""

import copy
import math
import random
from collections.abc import Iterator

from paper_cloth import OPPOSITE
from paper_words import shown

PLACE_NAMES = ("from", "at", "edge", "selvage", "fold", "corner", "other", "laid_on", "near_on", "far_on", "mark_on")
EDGE_NAMES = ("corner", "laid_on", "near_on", "far_on", "mark_on")
UP = {"right": "wrong", "wrong": "right"}


def places_swapped(script: dict, step: dict) -> Iterator[dict]:
    """Left for right, top for bottom, in one value that the sentence shows; of two selvages it
    does not matter which is named.
    """
    for name in PLACE_NAMES:
        if step["values"].get(name) in OPPOSITE and name in shown(step) and step["say"] != "place_selvages":
            yield _said(step, **{name: OPPOSITE[step["values"][name]]})


def across_edges(script: dict, step: dict) -> Iterator[dict]:
    """An edge of the strip that runs the other way: an end for a side."""
    sideways = {"left": "top", "right": "bottom", "top": "left", "bottom": "right"}
    for name in EDGE_NAMES:
        if step["values"].get(name) in OPPOSITE and name in shown(step):
            yield _said(step, **{name: sideways[step["values"][name]]})


def other_side_up(script: dict, step: dict) -> Iterator[dict]:
    """Wrong for right, where it makes other pieces: not where a piece is its own mirror image,
    unless there are more of them.
    """
    if step["do"] == "lay" and _has_a_hand(script, step):
        up = UP[step["values"]["up"]]
        say = step["say"].removesuffix("_wrong") + ("_wrong" if up == "wrong" else "")
        yield {**_said(step, up=up), "say": say}


def _has_a_hand(script: dict, step: dict) -> bool:
    pieces = {piece["id"]: piece for piece in script["pieces"]}
    kinds = [pieces[script["strips"][one["strip"]]["piece"]] for one in script["steps"] if one["do"] == "lay"]
    kind = pieces[script["strips"][step["strip"]]["piece"]]
    leaning = [one for one in kinds if one["shape"] in ("diamond", "parallelogram") and one["angle"] < 90]
    edges = [math.dist(*pair) for pair in zip(kind["outline"], kind["outline"][1:])]
    return kind in leaning and (
        abs(edges[0] - edges[1]) > 1 / 8 or len([one for one in leaning if one["shape"] == kind["shape"]]) > 1
    )


def an_eighth_off(script: dict, step: dict) -> Iterator[dict]:
    """A length that the sentence shows, larger by an eighth of an inch; and smaller. (Measures
    before the first cut: elsewhere.)
    """
    for name, value in step["values"].items():
        if (
            isinstance(value, float)
            and name in shown(step)
            and name not in ("degrees", "most")
            and step["do"] != "measure"
        ):
            yield _said(step, **{name: value + 1 / 8})
            yield _said(step, **{name: value - 1 / 8})


def another_angle(script: dict, step: dict) -> Iterator[dict]:
    if "degrees" in shown(step) and step["values"].get("degrees") is not None:
        yield _said(step, degrees=step["values"]["degrees"] - 15)


def lean_swapped(script: dict, step: dict) -> Iterator[dict]:
    lean = step["values"].get("lean")
    if (
        step["do"] == "piece"
        and lean is not None
        and "square" not in step["say"]
        and step["values"].get("degrees") != 90
    ):
        yield _said(step, lean="other_way" if lean == "as_last" else "as_last")


def left_out(script: dict, step: dict) -> Iterator[None]:
    if step["do"] in ("turn", "half_turn", "unfold", "take_part", "starter", "strip", "lay", "end", "fold", "square"):
        yield None


DOCTORS = (places_swapped, across_edges, other_side_up, an_eighth_off, another_angle, lean_swapped, left_out)


def doctored(script: dict, doctor, seed: int, most: int = 3) -> Iterator[tuple[int, dict]]:
    """Scripts with one step said otherwise, at most so many, and the step's index."""
    ways = [(i, other) for i, step in enumerate(script["steps"]) for other in doctor(script, step)]
    for i, other in random.Random(seed).sample(ways, min(most, len(ways))):
        wrong = copy.copy(script)
        wrong["steps"] = [*script["steps"][:i], *([other] if other else []), *script["steps"][i + 1 :]]
        yield i, wrong


def _said(step: dict, **values) -> dict:
    return {**step, "values": {**step["values"], **values}}
