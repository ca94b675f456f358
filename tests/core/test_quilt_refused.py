"""Bad input to `quilt` and `buying`: an answer with a reason, or a refusal that names the
field. Nothing else comes out.
"""

import json
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matside import answer

PIECE = {"size": 4, "angle": 60}
REFUSED = [
    ({"target": {"width": 3, "height": 60}}, "target.width", "target_below_one"),
    ({"target": {"width": 60, "height": 6}}, "target.height", "target_below_one"),
    ({"width": 60, "height": 6, "orientation": "lying"}, None, None),
    ({"width": 3, "height": 60, "orientation": "lying"}, "width", "target_below_one"),
    ({"width": 3, "height": 3, "edge": "trimmed"}, "width", "target_below_one"),
    ({"target": {"width": 50}}, "target.height", "length_missing"),
    ({"target": {"width": 50, "height": "4 1/0"}}, "target.height", "length_over_zero"),
    ({"target": {"width": 50, "height": 0}}, "target.height", "length_not_positive"),
    ({"target": {"size": "giant"}}, "target.size", "choice"),
    ({"target": {"width": 10, "height": 60}, "borders": [{"width": 5}]}, "target.width", "borders_fill"),
    ({"target": {"width": 13, "height": 60}, "borders": [{"width": 5}]}, "target.width", "target_below_one"),
    ({}, "target", "quilt_size_missing"),
    ({"columns": 3}, "rows", "count_missing"),
    ({"columns": 0, "rows": 3}, "columns", "count_outside"),
    ({"columns": 3, "rows": 3, "target": {"width": 50, "height": 60}}, "columns", "quilt_size_twice"),
    ({"columns": 3, "rows": 3, "have": 41}, "columns", "quilt_size_twice"),
    ({"have": 0}, "have", "count_outside"),
    ({"have": 3, "setting": "stars"}, "have", "have_too_few"),
    ({"have": 1, "edge": "trimmed"}, "have", "have_too_few"),
    ({"columns": 4000, "rows": 4000}, "target", "quilt_too_many"),
    ({"columns": 10_000, "rows": 1, "piece": {"size": 9, "angle": 60}}, "target", "quilt_too_large"),
    ({"columns": 2, "rows": 2, "borders": [{"width": 39_999}]}, "borders", "quilt_too_large"),
    ({"columns": 2, "rows": 2, "edge": "pointed", "borders": [{"width": 3}]}, "borders", "borders_pointed"),
    ({"columns": 2, "rows": 2, "sashing": {"width": 3.75}}, "sashing.width", "sashing_wider"),
    ({"columns": 2, "rows": 2, "sashing": {"width": 1}, "setting": "stars"}, "sashing", "sashing_not_here"),
    ({"columns": 2, "rows": 2, "sashing": {}}, "sashing.width", "length_missing"),
    ({"columns": 2, "rows": 2, "sashing": {"width": 0.1}, "seam": 0}, "sashing.width", "piece_too_small"),
    ({"columns": 2, "rows": 2, "setting": "eight_pointed"}, "piece.angle", "angle_for_setting"),
    (
        {"columns": 2, "rows": 2, "setting": "stars", "piece": {"size": 4, "angle": 45}},
        "piece.angle",
        "angle_for_setting",
    ),
    (
        {"columns": 2, "rows": 2, "setting": "eight_pointed", "piece": {"size": 4, "angle": 45}, "edge": "pointed"},
        "edge",
        "edge_not_here",
    ),
    ({"columns": 2, "rows": 2, "setting": "zigzag", "piece": {"size": 4, "angle": 85}}, "edge", "notch_too_flat"),
    ({"columns": 2, "rows": 2, "seam": 2}, "seam", "seam_takes_piece"),
    ({"columns": 2, "rows": 2, "seam": -1}, "seam", "length_negative"),
    ({"columns": 2, "rows": 2, "setting": "log"}, "setting", "choice"),
    ({"columns": 2, "rows": 2, "edge": ["filled"]}, "edge", "choice"),
    ({"columns": 2, "rows": 2, "piece": {"size": 4, "angle": 60, "edge": 5}}, "piece.edge", "measures_too_many"),
    ({"columns": 2, "rows": 2, "piece": {"shape": "rectangle", "size": 4, "length": 4}}, "piece.shape", "choice"),
    ({"columns": 2, "rows": 2, "piece": None}, "piece", "object_missing"),
    ({"columns": 2, "rows": 2, "fabrics": [{"id": "a"}, {"id": "a"}]}, "fabrics[1].id", "fabric_twice"),
    (
        {"columns": 2, "rows": 2, "fabrics": [{"id": "a"}], "colouring": {"fabrics": ["b"]}},
        "colouring.fabrics[0]",
        "fabric_unknown",
    ),
    (
        {"columns": 2, "rows": 2, "fabrics": [{"id": "a"}], "colouring": {"fabrics": [7]}},
        "colouring.fabrics[0]",
        "fabric_unknown",
    ),
    ({"columns": 2, "rows": 2, "borders": [{"width": 1, "fabric": "b"}]}, "borders[0].fabric", "fabric_unknown"),
    ({"columns": 2, "rows": 2, "colouring": {"changes": [[99, 0]]}}, "colouring.changes", "colour_change_outside"),
    ({"columns": 2, "rows": 2, "colouring": {"changes": [[1]]}}, "colouring.changes[0]", "colour_change_pair"),
    ({"columns": 2, "rows": 2, "colouring": {"way": "list"}}, "colouring.list", "list_wanted"),
    ({"columns": 2, "rows": 2, "top": {"width": "1/2 in", "height": 9}}, "top.width", "top_small"),
    ({"columns": 2, "rows": 2, "top": {"width": 9}}, "top.height", "length_missing"),
    ({"columns": 2, "rows": 2, "colouring": {"seed": -1}}, "colouring.seed", "count_outside"),
    ({"columns": 2, "rows": 2, "binding": {"width": 9}}, "binding", "binding_width"),
    ({"columns": 2, "rows": 2, "binding": {"cut_width": "1/4 in"}}, "binding.cut_width", "binding_narrow"),
    ({"columns": 2, "rows": 2, "binding": {"strip_length": 2}}, "binding", "binding_strip_short"),
    ({"columns": 2, "rows": 2, "binding": {"strip_length": 5, "grain": "bias"}}, "binding", "binding_strip_short"),
    ({"columns": 2, "rows": 2, "backing": {"usable_width": 1}}, "backing.usable_width", "backing_narrow"),
    ({"columns": 2, "rows": 2, "drawing": 1}, "drawing", "flag"),
]


@pytest.mark.parametrize(("fields", "field", "code"), REFUSED, ids=lambda value: str(value)[:60])
def test_bad_quilts_are_refused_at_their_field(fields, field, code):
    found = answer({"ask": "quilt", "piece": PIECE, **fields})
    assert (found.get("error", {}).get("field"), found.get("error", {}).get("code")) == (field, code)


@pytest.mark.parametrize(
    ("fields", "field", "code"),
    [
        ({}, "pieces", "buying_nothing"),
        ({"pieces": [{"size": 4, "angle": 60}]}, "pieces[0].need", "count_missing"),
        ({"pieces": [{"size": 4, "angle": 60, "need": -1}]}, "pieces[0].need", "count_outside"),
        ({"pieces": [{"size": 4, "angle": 60, "need": 100_001}]}, "pieces[0].need", "count_outside"),
        ({"pieces": [{"size": 4, "angle": 5, "need": 1}]}, "pieces[0].angle", "angle_outside"),
        ({"pieces": [{"size": 4, "angle": 60, "need": 1}] * 51}, "pieces", "list_length"),
        ({"quilt": {"piece": PIECE}}, "quilt.target", "quilt_size_missing"),
        ({"quilt": {"piece": PIECE, "width": 3, "height": 60}}, "quilt.width", "target_below_one"),
        ({"quilt": {"piece": PIECE, "columns": 2, "rows": 2, "seam": 2}}, "quilt.seam", "seam_takes_piece"),
        ({"pieces": [], "shrink": {"length": 50}}, "shrink.length", "number_outside"),
        ({"pieces": [], "spare": {"percent": "many"}}, "spare.percent", "number_outside"),
        ({"pieces": [], "fabrics": [{"id": "a", "price": True}]}, "fabrics[0].price", "number_outside"),
        ({"pieces": [], "fabrics": [{"id": "a", "price": "12,5"}]}, "fabrics[0].price", "number_outside"),
        ({"pieces": [], "fabrics": [{"id": "a"}, {"id": "a"}]}, "fabrics[1].id", "fabric_twice"),
        ({"pieces": [], "kits": {"people": 0}}, "kits.people", "count_outside"),
        ({"pieces": [], "round_to": "inch"}, "round_to", "choice"),
        ({"pieces": [{"size": 40, "angle": 90, "need": 100_000}]}, "fabrics", "buying_too_long"),
    ],
    ids=str,
)
def test_bad_buying_is_refused_at_its_field(fields, field, code):
    found = answer({"ask": "buying", **fields})
    assert (found.get("error", {}).get("field"), found.get("error", {}).get("code")) == (field, code)


def test_a_large_quilt_has_counts_and_says_that_it_is_not_drawn():
    found = answer({"ask": "quilt", "piece": PIECE, "columns": 110, "rows": 110})
    assert found["pieces"]["diamond"] == 110 * 110 + 109 * 109
    assert (found["drawing"], found["not_drawn"]) == (None, "outlines_too_many")
    small = answer({"ask": "quilt", "piece": PIECE, "columns": 90, "rows": 90})
    assert len(small["drawing"]["pieces"]) == 90 * 90 + 89 * 89 + 4 * 89 + 4 and small["not_drawn"] is None


ODD = st.sampled_from(
    [
        None,
        0,
        -1,
        1,
        2.5,
        41,
        1e9,
        60,
        45,
        "",
        "4,5",
        "1 yd",
        "x",
        "filled",
        "random",
        "stars",
        True,
        [],
        {},
        [0],
        {"width": 1},
    ]
)
NAMES = st.sampled_from(
    [
        "piece",
        "seam",
        "setting",
        "orientation",
        "joined_by",
        "edge",
        "target",
        "width",
        "height",
        "fit",
        "columns",
        "rows",
        "have",
    ]
    + ["sashing", "borders", "binding", "backing", "batting", "top", "fabrics", "coloring", "drawing", "only"]
)
PART_NAMES = st.sampled_from(
    ["width", "size", "angle", "style", "fabric", "grain", "way", "seed", "fabrics", "list", "overlap"]
)
PARTS = st.dictionaries(PART_NAMES, ODD, max_size=4)
REQUESTS = st.dictionaries(NAMES, st.one_of(ODD, PARTS, st.lists(PARTS, max_size=2)), max_size=6)


@given(REQUESTS)
@settings(max_examples=150, derandomize=True, deadline=None)
def test_any_request_ends_in_an_answer_or_a_refusal_with_a_sentence(fields):
    request = {"piece": PIECE, "columns": 2, "rows": 2, **fields}
    for found in (answer({"ask": "quilt", **request}), answer({"ask": "buying", "quilt": request})):
        text = json.dumps(found, allow_nan=False)
        assert found["ok"] or (found["error"]["message"] and "{" not in found["error"]["message"].replace("{…}", "")), (
            text
        )


@given(
    st.floats(0.4, 60),
    st.integers(15, 90),
    st.floats(0.1, 120),
    st.floats(0.1, 120),
    st.sampled_from(["pointed", "trimmed", "filled"]),
    st.booleans(),
)
@settings(max_examples=50, derandomize=True, deadline=None)
def test_any_size_gives_a_quilt_or_says_why_not(size, angle, width, height, edge, zigzag):
    request = {
        "ask": "quilt",
        "piece": {"size": size, "angle": angle},
        "width": width,
        "height": height,
        "edge": edge,
        "drawing": False,
    }
    found = answer({**request, "setting": "zigzag" if zigzag else "grid", "seam": min(0.25, size / 3)})
    if found["ok"]:
        assert all(math.isfinite(length) and length > 0 for length in found["finished"].values())
    else:
        assert found["error"]["code"] in {
            "target_below_one",
            "quilt_too_many",
            "notch_too_flat",
            "piece_too_small",
            "seam_takes_piece",
        }
