"""The ask `templates`: true-size templates of pieces or of a whole quilt's, laid out on pages of paper."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction

from ..fields import Fields
from ..handout.of_quilt import templates_of
from ..handout.paper import PAPERS
from ..handout.sheets import room_for, sheets
from ..handout.templates import Name, Template, leans, measures, of_shape, wedge
from ..pieces import DEFAULT_SEAM, MOST_NEEDED, read_piece
from ..plan.basket import GRAINS
from ..quilt.reading import quilt_within
from ..shapes import Shape

MOST_PIECES = 50


def answer(request: dict) -> dict:
    """Every piece once with cut outline, seam line, grain and name; wedges of its angles; the pages; what is left out.

    `pieces` are as other asks read them, each with `grain` and `need` where it has them, and `seam` is their seam
    allowance (¼ in); or a `quilt` as the ask `quilt` reads it, with its own. `paper` is "a4" or "letter". What a page
    is, `handout.page` says; `placed` says where on it each template lies: its own coordinates and `at` are those of
    the page, `window` is what of it is there, and `tile` which one of several.
    """
    fields = Fields(request)
    paper = PAPERS[fields.choice("paper", PAPERS, "letter")]
    found, left_out, angles = _asked(fields)
    wedges = [wedge(angle, room_for(paper)) for angle in sorted(angles, reverse=True)]
    pages, too_large = sheets([*found, *wedges], paper)
    return {
        "paper": {"code": paper.code, "width": paper.width, "height": paper.height},
        "templates": [_told(template) for template in found],
        "wedges": [{"id": one.id, **one.name.values, "outline": one.cut} for one in wedges],
        "left_out": [*left_out, *too_large],
        "pages": pages,
    }


def _asked(fields: Fields) -> tuple[list[Template], list[dict], set[Fraction]]:
    """The templates, what has none, and the angles of all their cuts."""
    if not fields.has("quilt"):
        found = _pieces(fields)
        return [template for template, _ in found], [], set().union(*(leans(shape) for _, shape in found))
    with quilt_within(fields.object("quilt")) as quilt:
        templates, left_out = templates_of(quilt)
        return templates, left_out, {quilt.geometry.piece.angle} - {90}


def _pieces(fields: Fields) -> list[tuple[Template, Shape]]:
    seam = fields.length_or_zero("seam", DEFAULT_SEAM)
    names: Counter = Counter()
    return [_piece(one, seam, names) for one in fields.objects("pieces", MOST_PIECES, 1)]


def _piece(fields: Fields, seam: Fraction, names: Counter) -> tuple[Template, Shape]:
    shape = read_piece(fields)
    name = fields.text("id", shape.name)
    names[name] += 1
    told = Name("handout.named", {"name": name}) if fields.has("id") else _called(shape)
    strips = fields.choice("grain", GRAINS, GRAINS[0])
    template = of_shape(f"{name}/{names[name]}" if names[name] > 1 else name, told, shape, seam, strips)
    notes = (measures(shape), Name(f"handout.strips.{strips}", {}))
    if not fields.has("need"):
        return replace(template, notes=notes), shape
    count = fields.count("need", 0, MOST_NEEDED)
    return replace(template, notes=(*notes, Name("handout.cut_so_many", {"n": count})), count=count), shape


def _called(shape: Shape) -> Name:
    return Name(f"handout.shape.{shape.name.replace('-', '_')}", {"angle": float(shape.angle)})


def _told(template: Template) -> dict:
    return {
        "id": template.id,
        "name": template.name.told(),
        "notes": [note.told() for note in template.notes],
        "width": template.width,
        "height": template.height,
        "cut": template.cut,
        "seam": template.seam,
        "grain": template.grain and {"from": template.grain[0], "to": template.grain[1], "strips": template.strips},
        "count": template.count,
        "turned": template.turned,
    }
