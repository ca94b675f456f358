"""What the screens begin with and what can be chosen there, as the page is told it: the core answers all of it."""

from fractions import Fraction

import pytest

from matside import answer
from matside.buying.reading import USUAL_SQUARE, read_kits
from matside.errors import Refusal
from matside.fields import Fields
from matside.kinds import KINDS, USUAL_STRAIGHTEN, USUAL_WIDTH
from matside.leading.tools import SHARE_AN_IRON
from matside.pieces import DEFAULT_SEAM, SHAPES
from matside.quilt.around.backing import USUAL_OVERLAP
from matside.quilt.around.binding import USUAL_BINDING
from matside.quilt.around.borders import DEFAULT_EXTRA
from matside.quilt.size.sizes import SIZES
from matside.rulers.ruler import USUAL_TICK
from matside.units import parse_length
from matside.usual import number, text

FACTS = answer({"ask": "facts"})
CHOICES, USUAL = FACTS["choices"], FACTS["usual"]
UNITS = sorted(USUAL)
FOR_AN_INCH = {"in": 1, "yd": Fraction(1, 36), "cm": Fraction(254, 100), "m": Fraction(254, 10_000)}


def asked(ask: str, **fields) -> dict:
    """The answer, which must be none that refuses."""
    found = answer({"ask": ask, **fields})
    assert found["ok"], found
    return found


def refused(ask: str, **fields) -> str:
    """The field at which it is refused."""
    found = answer({"ask": ask, **fields})
    assert not found["ok"], fields
    return found["error"]["field"]


def typed(length: str, units: str) -> str:
    """A length as the page sends it that was typed without its unit."""
    return f"{length} {units}"


def diamond(units: str) -> dict:
    """The first diamond as the page sends it."""
    piece = USUAL[units]["piece"]
    return {
        "shape": "diamond",
        "angle": piece["angle"],
        piece["measure"]: typed(piece["text"], units),
        "seam": typed(piece["seam"], units),
    }


def quilt(units: str, **other) -> dict:
    """The first quilt as the page sends it."""
    usual = USUAL[units]["quilt"]
    border, binding, target = usual["border"], usual["binding"], usual["target"]
    borders = [{**border, "width": typed(width, units), "extra": typed(border["extra"], units)}
               for width in (border["width"], usual["next_border"])]  # fmt: skip
    return {
        "piece": diamond(units),
        "target": {side: typed(target[side], units) for side in ("width", "height")},
        **{name: usual[name] for name in ("fit", "setting", "orientation", "joined_by", "edge")},
        "borders": borders,
        "binding": {**binding, "width": typed(binding["width"], units)},
        "backing": {"overlap": typed(usual["overlap"], units)},
        "batting": {"overlap": typed(usual["overlap"], units)},
        "fabrics": [{"id": "rose"}],
        **other,
    }


def buying(units: str, **other) -> dict:
    """The first buying list as the page sends it."""
    usual = USUAL[units]["quilt"]["buying"]
    quarter = {side: typed(usual[f"quarter_{side}"], units) for side in ("length", "width")}
    return {
        "quilt": {**quilt(units), "drawing": False},
        **{name: typed(usual[name], units) for name in ("usable_width", "straighten", "square")},
        "round_to": usual["round_to"],
        "fat_quarter": quarter,
        "fabrics": [{"id": "rose", "price": 12, "price_by": usual["price_by"]}],
        "kits": {"people": usual["people"], "leader": usual["leader"]},
        **other,
    }


# --- What is usual --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("units", UNITS)
def test_the_first_question_of_every_screen_is_answered(units):
    usual = USUAL[units]
    assert asked("cloth", piece=diamond(units), cloth={"kind": usual["cloth"]})["best"]["pieces"] > 0
    strip = {"kind": "full_width_strip", "width": usual["practice"], "selvage": "none"}
    assert asked("guide", piece=diamond(units), cloth=strip, way="along_width")["script"]["pieces"]
    ruler = {"name": "mine", "width": 6, "length": 24, "tick": usual["tick"]}
    assert asked("my_rulers", rulers=[ruler])["rulers"]
    assert asked("best_size", piece=diamond(units), cloth={"kind": usual["cloth"]}, step=usual["tick"])["steps"]
    piece = {**usual["typed"], "size": typed(usual["typed"]["size"], units)}
    need = {name: value for name, value in piece.items() if name != "cut"}
    assert asked("plan", pieces=[{"id": "a", **need}], cloths=[], work=10)["missing"] == {"a": 24}


@pytest.mark.parametrize("units", UNITS)
def test_the_first_quilt_is_answered_by_its_size_by_its_steps_and_by_what_one_has(units):
    usual = USUAL[units]["quilt"]
    assert asked("quilt", **quilt(units))["pieces"]["diamond"] > 100
    bare = {name: value for name, value in quilt(units).items() if name not in ("target", "fit")}
    assert asked("quilt", **bare, **usual["steps"])["columns"] == int(usual["steps"]["columns"])
    assert asked("quilt", **bare, have=usual["have"])["pieces"]["diamond"] <= int(usual["have"])
    sash = {"width": 1, "style": usual["sash_style"]}
    assert asked("quilt", **bare, **usual["steps"], sashing=sash)["pieces"]


@pytest.mark.parametrize("units", UNITS)
def test_the_first_buying_list_and_the_first_class_are_answered(units):
    usual = USUAL[units]["quilt"]
    (line, *_) = asked("buying", **buying(units))["fabrics"]
    assert line["buy"] > 0 and line["price"] > 0
    lesson = {name: usual["class"][name] for name in ("weeks", "share_an_iron")}
    found = asked("class_plan", **buying(units), **lesson)
    assert len(found["weeks"]) == int(usual["class"]["weeks"]) and found["people"] == int(usual["buying"]["people"])
    assert usual["class"]["made_as"] in found["labels"]


def test_what_is_usual_in_inches_is_what_the_core_goes_by():
    usual = USUAL["in"]
    quarter, buy = KINDS[usual["cloth"]], usual["quilt"]["buying"]
    meant = [
        (usual["piece"]["seam"], DEFAULT_SEAM),
        (usual["quilt"]["border"]["extra"], DEFAULT_EXTRA),
        (usual["quilt"]["binding"]["width"], USUAL_BINDING),
        (usual["quilt"]["overlap"], USUAL_OVERLAP),
        (usual["quilt"]["target"]["width"], SIZES["lap"].width),
        (usual["quilt"]["target"]["height"], SIZES["lap"].height),
        (usual["tick"], USUAL_TICK),
        (buy["usable_width"], USUAL_WIDTH),
        (buy["straighten"], USUAL_STRAIGHTEN),
        (buy["square"], USUAL_SQUARE),
        (buy["quarter_length"], quarter.length),
        (buy["quarter_width"], quarter.width),
    ]
    assert [parse_length(length, "") for length, _ in meant] == [own for _, own in meant]
    assert usual["quilt"]["target"]["size"] == "lap"
    assert usual["quilt"]["class"]["share_an_iron"] == str(SHARE_AN_IRON)
    assert buy["leader"] == str(read_kits(Fields({"kits": {"people": 20}})).leader)


def test_a_buying_list_that_leaves_the_usual_out_is_the_same():
    """In inches, at which the core's own defaults stand: the whole answer, a second way to the same."""
    usual = {name: value for name, value in buying("in").items() if name in ("quilt", "fabrics")}
    bare = {**usual["quilt"], "backing": {}, "batting": {}, "binding": {}}
    bare["borders"] = [{"width": border["width"]} for border in bare["borders"]]
    bare["piece"] = {name: value for name, value in bare["piece"].items() if name not in ("seam", "shape")}
    found = asked("buying", quilt=bare, fabrics=[{"id": "rose", "price": 12}], kits={"people": 20})
    assert found == asked("buying", **buying("in"))


def test_round_centimeters_are_near_what_the_core_goes_by():
    """Within a fifth: 3/4 cm for a seam of 1/4 in (0.635 cm), 3 cm for an inch; all others nearer still."""

    def lengths(given, units: str, place: str = "") -> dict[str, Fraction]:
        if isinstance(given, dict):
            inside = [lengths(value, units, f"{place}.{name}") for name, value in given.items()]
            return {name: length for one in inside for name, length in one.items()}
        if isinstance(given, list):
            return lengths({str(number): one for number, one in enumerate(given)}, units, place)
        if not isinstance(given, str):
            return {}
        try:
            return {place: parse_length(given if given.split()[1:] and "/" not in given else typed(given, units), "")}
        except Refusal:
            return {}

    same = ("people", "leader", "weeks", "share_an_iron", "columns", "rows", "have", "angle", "need", "tick")
    inches, centimeters = (
        {place: length for place, length in lengths({**USUAL[units], "sizes": {}, "cloths": {}}, units).items()
         if place.split(".")[-1] not in same}
        for units in ("in", "cm")
    )  # fmt: skip
    assert inches.keys() == centimeters.keys() and len(inches) > 15
    for place, length in inches.items():
        assert Fraction(5, 6) <= centimeters[place] / length <= Fraction(6, 5), place
    cloth = KINDS["metre_length"]
    assert parse_length(typed(USUAL["cm"]["quilt"]["buying"]["usable_width"], "cm"), "") == cloth.width


@pytest.mark.parametrize("units", UNITS)
def test_every_size_that_is_offered_is_one_and_the_first_piece_is_among_them(units):
    usual = USUAL[units]
    sizes = [parse_length(typed(size, units), "") for size in usual["sizes"]]
    assert sizes == sorted(set(sizes)) and usual["piece"]["text"] in usual["sizes"]
    for size in usual["sizes"]:
        asked("piece", piece={**diamond(units), "size": typed(size, units)})


@pytest.mark.parametrize("unit", sorted(FOR_AN_INCH))
@pytest.mark.parametrize(
    "length", [Fraction(1, 8), Fraction(5, 2), Fraction(9), Fraction(12), Fraction(42), Fraction(127, 2)]
)
def test_what_is_written_is_read_as_the_same_length(length, unit):
    written = text(length, unit)
    assert number(length * FOR_AN_INCH[unit], unit) == written
    assert abs(parse_length(typed(written, unit), "") - length) <= (0 if unit in ("in", "yd") else length / 100_000)


# --- What can be chosen ---------------------------------------------------------------------------------------------

NEEDS = {"angle": "60", "cut": "short", "length": "6 in"}


def needed(shape: str, **other) -> dict:
    """A piece of a list as the page sends it: with what its shape is described by."""
    described = {name: NEEDS[name] for name in CHOICES["shapes"][shape]}
    return {"id": "a", "shape": shape, "size": "4 in", "need": "24", **described, **other}


@pytest.mark.parametrize("shape", CHOICES["shapes"])
def test_a_shape_is_described_by_what_is_listed_and_by_nothing_less(shape):
    asked("plan", pieces=[needed(shape)], cloths=[], work=10)
    for name in CHOICES["shapes"][shape]:
        if name != "cut":  # which is short where nobody says
            assert refused("plan", pieces=[needed(shape, **{name: None})], cloths=[]) == f"pieces[0].{name}"


def test_every_shape_is_known_and_only_one_of_quilts_is_not_typed():
    assert set(SHAPES) - CHOICES["shapes"].keys() == {"parallelogram"}
    assert refused("plan", pieces=[{**needed("diamond"), "shape": "circle"}], cloths=[]) == "pieces[0].shape"


TAKEN = {
    "cuts": lambda cut: ("plan", {"pieces": [needed("half-diamond", cut=cut)], "cloths": [], "work": 10}, "pieces[0].cut"),
    "grains": lambda grain: ("plan", {"pieces": [needed("diamond")], "cloths": [], "grain": grain, "work": 10}, "grain"),
    "round_to": lambda step: ("buying", buying("in", round_to=step), "round_to"),
    "price_by": lambda by: (
        "buying", buying("in", fabrics=[{"id": "rose", "price": 3, "price_by": by}]), "fabrics[0].price_by"),
    "sold": lambda sold: ("buying", buying("in", fabrics=[{"id": "rose", "sold": sold}]), "fabrics[0].sold"),
    "line_from": lambda edge: (
        "my_rulers", {"rulers": [ruler(degrees=60, **{"from": edge})]}, "rulers[0].angles[0].from"),
    "leans": lambda lean: ("my_rulers", {"rulers": [ruler(degrees=60, lean=lean)]}, "rulers[0].angles[0].lean"),
    "angles": lambda angle: ("piece", {"piece": {"angle": angle, "size": 4}}, "piece.angle"),
}  # fmt: skip


def ruler(**line) -> dict:
    """A ruler with one line as the page sends it."""
    return {"name": "mine", "width": 6, "length": 24, "angles": [line]}


@pytest.mark.parametrize("name", TAKEN)
def test_every_choice_is_taken_and_one_beside_it_is_refused(name):
    for choice in CHOICES[name]:
        ask, fields, _ = TAKEN[name](choice)
        asked(ask, **fields)
    ask, fields, field = TAKEN[name]("another")
    assert refused(ask, **fields) == field


def test_nothing_can_be_chosen_that_is_not_tried_here():
    assert CHOICES.keys() == TAKEN.keys() | {"amounts", "shapes", "made_as"}


def test_kits_are_labelled_however_they_can_be_made():
    assert list(asked("class_plan", **buying("in"))["labels"]) == CHOICES["made_as"]


def test_prices_are_by_lengths_and_a_fat_quarter_has_its_own():
    """What the page does not list is said by how the fabric is sold."""
    by_quarter = [{"id": "rose", "sold": "fat_quarter", "price": 3, "price_by": "fat_quarter"}]
    asked("buying", **buying("in", fabrics=by_quarter))
    assert "fat_quarter" not in CHOICES["price_by"]


@pytest.mark.parametrize(("unit", "kind"), [("yd", "yardage"), ("m", "metre_length")])
def test_every_amount_is_a_length_of_cloth_and_the_usual_one_is_that_of_its_kind(unit, kind):
    usual, offered = CHOICES["amounts"][unit]["usual"], CHOICES["amounts"][unit]["offered"]
    assert usual in offered and KINDS[kind].unit == unit
    lengths = {
        amount: asked("cloth", piece=diamond("in"), cloth={"kind": kind, "length": typed(amount, unit)})["cloth"][
            "length"
        ]
        for amount in offered
    }
    assert list(lengths.values()) == sorted(lengths.values())
    bare = asked("cloth", piece=diamond("in"), cloth={"kind": kind})
    assert lengths[usual] == bare["cloth"]["length"]
    assert {known["unit"] for known in FACTS["kinds"]} & {"yd", "m"} == CHOICES["amounts"].keys()


def test_a_class_has_as_many_other_sizes_as_there_may_be_and_no_more():
    most, size = FACTS["limits"]["sizes"], {"people": 1, "target": {"width": 36, "height": 36}}
    kits = {"people": "2", "sizes": [size] * most}
    asked("buying", **buying("in", kits=kits))
    assert refused("buying", **buying("in", kits={**kits, "sizes": [size] * (most + 1)})) == "kits.sizes"


def test_as_many_cloths_as_can_be_tapped_are_cut_one_after_another():
    most = FACTS["limits"]["cloths"]
    cloth = {"kind": "fat_quarter", "count": most, "id": "quarter"}
    assert len(asked("guide", piece=diamond("in"), cloth=cloth, way="along_width")["script"]["cloths"]) == most


# --- The drawing ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"sashing": {"width": 1, "style": "cornerstones"}},
        {"borders": []},
        {"borders": [], "binding": None},
        {"setting": "stars", "edge": "filled"},
        {"setting": "zigzag", "sashing": {"width": 1}, "edge": "trimmed"},
    ],
)
def test_a_drawing_says_how_many_of_its_pieces_a_pattern_colors(more):
    """The others, round them, are known by their kinds: a second way to count."""
    request = {**quilt("in"), **more}
    drawing = asked("quilt", **request)["drawing"]
    kinds = [drawing["kinds"][row[0]] for row in drawing["pieces"]]
    inside = [not kind.startswith(("sash", "cornerstone", "border", "binding")) for kind in kinds]
    assert inside == [True] * drawing["patchwork"] + [False] * (len(inside) - drawing["patchwork"])
    recolored = asked("quilt", **request, only="colours")
    assert len(recolored["colours"]) == drawing["patchwork"]
