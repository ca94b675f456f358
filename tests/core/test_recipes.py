"""The recipes of DEVELOPERS.md, performed: what they say is all that it takes, and what they name is there."""

import math
from pathlib import Path

import pytest
from shapely import Polygon, unary_union

from recipes import Kitchen


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    return Kitchen(tmp_path)


@pytest.mark.long
def test_a_kind_of_cloth_is_a_line_and_its_words(kitchen: Kitchen):
    kitchen.add(
        "core/matside/kinds.py",
        'Kind("scrap"',
        'Kind("half_yard", Fraction(18), Fraction(42), "length", "in", selvages=2),\n        ',
    )
    words = {
        "name": "Half yard",
        "several": "{n} half yards",
        "hint": "18 in off the bolt.",
        "length": "Along the selvage",
        "width": "Across",
    }
    kitchen.add_words("page.json", "cloth", words={"half_yard": words})
    piece = {"size": 4, "angle": 60}
    kinds, known, other = kitchen.asked(
        {"ask": "kinds"},
        {"ask": "cloth", "piece": piece, "cloth": {"kind": "half_yard"}},
        {"ask": "cloth", "piece": piece, "cloth": {"length": 18, "width": 42, "selvage": "length", "selvages": 2}},
    )
    assert "half_yard" in [kind["code"] for kind in kinds["kinds"]]
    assert _alike(known) == _alike(other)
    assert kitchen.tested("tests/core/test_kinds.py", "tests/core/test_words.py") == ""


LONG_DIAMOND = '''@dataclass(frozen=True, slots=True)
class LongDiamond(Shape):
    """Two diamonds in one piece: its cuts are twice as far apart as its edges."""

    name: ClassVar[str] = "long-diamond"
    handed: ClassVar[bool] = True

    size: Fraction
    angle: Fraction

    @property
    def starter(self) -> PieceCut:
        return PieceCut(self.angle, 0.0, float(self.size) * angles.cot(self.angle))

    @property
    def cycle(self) -> tuple[PieceCut, ...]:
        return (PieceCut(self.angle, self.advance, self.advance, 2 * self.size),)

    @property
    def advance(self) -> float:
        return 2 * float(self.size) / angles.sin(self.angle)

    @property
    def area(self) -> float:
        return float(self.size) * self.advance

    def outline(self, k: int = 0, start: float = 0.0) -> Outline:
        left, slant, high = start + k * self.advance, self.starter_waste, float(self.size)
        right = left + self.advance
        return ((left, 0.0), (right, 0.0), (right + slant, high), (left + slant, high))


'''


@pytest.mark.long
def test_a_piece_is_a_class_and_its_reading(kitchen: Kitchen):
    """A piece twice as long as a diamond is to be cut as the parallelogram with the same sides is."""
    kitchen.add("core/matside/shapes.py", "@dataclass(frozen=True, slots=True)\nclass Trapezoid(Shape):", LONG_DIAMOND)
    pieces = "core/matside/pieces.py"
    kitchen.add(pieces, "Parallelogram, Rectangle, Shape", "LongDiamond, ")
    kitchen.add(pieces, "Parallelogram, Trapezoid, Rectangle))", "LongDiamond, ")
    kitchen.add(
        pieces,
        "_READERS = {",
        'def _long_diamond(fields: Fields) -> Shape:\n    return LongDiamond(_size(fields, "size"), fields.angle("angle"))\n\n\n',
    )
    kitchen.add(pieces, '    "parallelogram": _parallelogram,', '    "long-diamond": _long_diamond,\n')
    shapes = "tests/core/test_shapes.py"
    kitchen.add(shapes, "Parallelogram, Rectangle, Trapezoid, half_hexagon", "LongDiamond, ")
    kitchen.add(
        shapes,
        "    st.builds(Parallelogram, SIZES, SIZES, ANGLES),\n    st",
        "    st.builds(LongDiamond, SIZES, ANGLES.filter(lambda angle: angle < 90)),\n",
    )
    own = {"shape": "long-diamond", "size": 3, "angle": 60}
    same = {"shape": "parallelogram", "size": 3, "across": 6, "angle": 60}
    cloth = {"length": 18, "width": 42}
    for ask in (
        lambda piece: {"ask": "strip", "piece": piece, "length": 42},
        lambda piece: {"ask": "cloth", "piece": piece, "cloth": cloth},
        lambda piece: {"ask": "rulers", "piece": piece},
        lambda piece: {"ask": "plan", "cloths": [{"id": "a", **cloth}], "pieces": [{"id": "p", **piece, "need": 9}]},
        lambda piece: {"ask": "guide", "piece": piece, "cloth": {"kind": "fat_quarter"}},
    ):
        found, wanted = kitchen.asked(ask(own), ask(same))
        assert found["ok"] and _alike(found) == _alike(wanted)
    assert kitchen.tested(shapes) == ""


LEANING = '''"""Rows of diamonds that all lean the same way, straight above each other."""

from ..outlines.polygons import rhombus
from .setting import Extent, Setting, squared
from .tilings import Measures, Tile, Tiling


def leaning(size: float, angle: float) -> Setting:
    """The setting for a finished size and a sharp angle."""
    piece = Measures(size, angle)
    shape = rhombus((piece.edge, 0.0), (piece.slant, -piece.size))
    tile = Tile(0, (piece.edge + piece.slant) / 2, piece.size / 2, 0, 0)
    tiling = Tiling((shape,), (tile,), piece.edge, piece.size, 1, 1)
    return Setting("leaning", tiling, (piece.edge, size), {"pointed": Extent((0.0, 0.0), (piece.slant, 0.0))}, squared)
'''


@pytest.mark.long
def test_a_setting_of_a_quilt_is_a_tiling_and_its_lines(kitchen: Kitchen):
    (kitchen.folder / "core/matside/quilt/settings/leaning.py").write_text(LEANING, "utf-8")
    geometry = "core/matside/quilt/geometry.py"
    kitchen.add(geometry, "from .settings.neighbours", "from .settings.leaning import leaning\n")
    kitchen.add(
        geometry,
        '        case "zigzag":\n            return zigzag(',
        '        case "leaning":\n            return leaning(size, angle)\n',
    )
    kitchen.add("core/matside/quilt/reading.py", '"eight_pointed")\nORIENTATIONS', '"leaning", ')
    kitchen.add(
        "core/matside/quilt/fabrics/offered.py",
        '    "zigzag": Offered',
        '    "leaning": Offered((_ROWS, _COLUMNS, _SINGLE)),\n',
    )
    kitchen.add(
        "core/matside/quilt/sewing.py", '    "zigzag": (', '    "leaning": ("slanting_rows", "rows_by_turns"),\n'
    )
    kitchen.add_words("quilt.json", "quilt", "setting", words={"leaning": "Leaning rows"})
    kitchen.add_words("quilt.json", "quilt", "layout", words={"leaning": "Row 1 is at the top."})
    piece = {"size": 4, "angle": 60}
    choices, quilt, bought, needs = kitchen.asked(
        {"ask": "quilt_choices"},
        {"ask": "quilt", "piece": piece, "setting": "leaning", "columns": 3, "rows": 2, "edge": "pointed"},
        {"ask": "buying", "quilt": {"piece": piece, "setting": "leaning", "columns": 3, "rows": 2, "edge": "pointed"}},
        {
            "ask": "quilt_needs",
            "quilt": {"piece": piece, "setting": "leaning", "columns": 3, "rows": 2, "edge": "pointed"},
        },
    )
    offered = next(setting for setting in choices["settings"] if setting["code"] == "leaning")
    assert offered["edges"] == ["pointed"] and offered["start"]["way"] == "rows"
    edge, slant = 3.5 / math.sin(math.radians(60)), 3.5 / math.tan(math.radians(60))
    assert quilt["finished"] == {"width": pytest.approx(3 * edge + slant), "height": pytest.approx(7)}
    assert quilt["pieces"] == {"diamond": 6} and needs["pieces"] == 6 and bought["fabrics"][0]["buy"] == 9
    outlines = [outline(quilt["drawing"], number) for number in range(6)]
    assert unary_union(outlines).area == pytest.approx(6 * edge * 3.5) == pytest.approx(sum(o.area for o in outlines))
    assert kitchen.tested("tests/core/test_words.py", "-k", "quilt or sentence") == ""


def outline(drawing: dict, number: int) -> Polygon:
    """A piece of a drawing where it lies."""
    _, _, shape, x, y, *_ = drawing["pieces"][number]
    return Polygon([(x + px, y + py) for px, py in drawing["shapes"][shape]])


def _alike(found):
    """An answer to a millionth, without what a piece is called in it."""
    if isinstance(found, dict):
        return {name: _alike(value) for name, value in found.items() if name not in ("piece", "rulers", "shape")}
    if isinstance(found, list):
        return [_alike(value) for value in found]
    return round(found, 6) if isinstance(found, float) else found
