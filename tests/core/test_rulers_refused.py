"""What is no ruler, no line or no request is refused, with the field and the reason."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matside import answer
from matside.errors import Refusal
from matside.rulers import AngleLine, Ruler, ways
from matside.shapes import Diamond
from ruler_bench import request

PIECE = {"shape": "diamond", "size": 4, "angle": 60}
LINE = {"degrees": 60, "from": "long"}


def refused(rulers, **more) -> tuple[str, str]:
    found = answer({**request(PIECE, rulers), **more})
    assert found["ok"] is False
    assert found["error"]["message"]
    return found["error"]["field"], found["error"]["code"]


@pytest.mark.parametrize(
    "change, field, code",
    [
        ({"width": "1/16 in"}, "rulers[0].tick", "ruler_below_tick"),
        ({"width": "1/4 in", "tick": "1/2 in"}, "rulers[0].tick", "ruler_below_tick"),
        ({"width": 0}, "rulers[0].width", "length_not_positive"),
        ({"length": None}, "rulers[0].length", "length_missing"),
        ({"tick": -1}, "rulers[0].tick", "length_not_positive"),
        ({"name": ""}, "rulers[0].name", "text"),
        ({"reads_through": "yes"}, "rulers[0].reads_through", "flag"),
        ({"angles": {}}, "rulers[0].angles", "list_wanted"),
        ({"angles": [LINE] * 25}, "rulers[0].angles", "list_length"),
        ({"angles": [{**LINE, "degrees": 0}]}, "rulers[0].angles[0].degrees", "line_angle_flat"),
        ({"angles": [LINE, {**LINE, "degrees": "180°"}]}, "rulers[0].angles[1].degrees", "line_angle_flat"),
        ({"angles": [{**LINE, "degrees": 5e-324}]}, "rulers[0].angles[0].degrees", "line_angle_flat"),
        ({"angles": [{**LINE, "degrees": "179.5"}]}, "rulers[0].angles[0].degrees", "line_angle_flat"),
        ({"angles": [{**LINE, "at": 5e-324}]}, "rulers[0].angles[0].at", "length_nearly_zero"),
        ({"angles": [{**LINE, "degrees": 181}]}, "rulers[0].angles[0].degrees", "angle_outside"),
        ({"angles": [{**LINE, "from": "middle"}]}, "rulers[0].angles[0].from", "choice"),
        ({"angles": [{**LINE, "lean": "up"}]}, "rulers[0].angles[0].lean", "choice"),
        ({"angles": [{**LINE, "at": 25}]}, "rulers[0].angles[0].at", "line_off_the_edge"),
        ({"angles": [{**LINE, "at": 7, "from": "short"}]}, "rulers[0].angles[0].at", "line_off_the_edge"),
        ({"angles": [{**LINE, "line_length": 0}]}, "rulers[0].angles[0].line_length", "length_not_positive"),
    ],
)
def test_a_ruler_that_cannot_be_is_refused_with_its_field(change, field, code):
    assert refused([{"name": "r", "width": 6, "length": 24, **change}]) == (field, code)


def test_two_rulers_of_one_name_and_too_many_are_refused():
    ruler = {"name": "r", "width": 6, "length": 24}
    assert refused([ruler, ruler]) == ("rulers[1].name", "ruler_name_taken")
    assert answer({"ask": "my_rulers", "rulers": [ruler, ruler]})["error"]["code"] == "ruler_name_taken"
    assert refused([{**ruler, "name": str(i)} for i in range(21)]) == ("rulers", "list_length")


def test_it_does_not_matter_which_side_is_called_the_length():
    told = [
        answer({"ask": "my_rulers", "rulers": [{"name": "r", "width": w, "length": h}]})["rulers"]
        for w, h in ((6, 24), (24, 6))
    ]
    assert told[0] == told[1] and (told[0][0]["width"], told[0][0]["length"]) == (6, 24)


def test_the_rest_of_the_request_is_read_with_care():
    ruler = {"name": "r", "width": 6, "length": 24}
    assert refused([ruler], hand="both") == ("hand", "choice")
    assert refused([ruler], strip_width=5) == ("strip_width", "strip_not_the_size")
    assert refused([ruler], run="0 in") == ("run", "length_not_positive")
    assert refused([ruler], placing=3) == ("placing", "placing_too_large")
    assert refused([ruler], tolerance=0) == ("tolerance", "length_not_positive")


def test_the_values_refuse_nonsense_themselves():
    with pytest.raises(Refusal, match="ruler_sides_swapped"):
        Ruler("r", Fraction(24), Fraction(6))
    with pytest.raises(Refusal, match="choice"):
        AngleLine(Fraction(60), "middle")
    with pytest.raises(Refusal, match="hand"):
        ways(Diamond(Fraction(4), Fraction(60)), Fraction(4), [], "third")


JUNK = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-5, 50)
    | st.floats(allow_nan=True)
    | st.text(max_size=6)
    | st.sampled_from(("long", "60", "1/8", "both")),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(("degrees", "from", "at", "lean")), inner, max_size=3)
    ),
    max_leaves=5,
)
FIELDS = st.sampled_from(("name", "width", "length", "tick", "angles", "reads_through"))


@settings(derandomize=True, deadline=None, database=None, max_examples=150)
@given(st.lists(st.dictionaries(FIELDS, JUNK, max_size=6) | JUNK, max_size=3))
def test_whatever_is_given_for_rulers_an_answer_comes(rulers):
    found = answer(request(PIECE, rulers))
    assert found["ok"] or found["error"]["field"].startswith("rulers") or found["error"]["code"] == "request_value"
