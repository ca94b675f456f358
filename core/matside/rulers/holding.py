"""What the hands must know of a way besides the lines that are laid: codes and values of the catalogue's `rulers`."""

from .way import Way


def held(way: Way) -> list[dict]:
    """How its rulers are held before any line is laid: turned over, or two together."""
    found = [{"say": "turned_over"}] if way.turned_over else []
    if len(way.rulers) == 1:
        return found
    both = {"inner": way.rulers[0], "outer": way.rulers[-1]}
    if way.measure_on:
        return [*found, {"say": "two_rulers", **both, "distance": way.measure_on[1]}]
    return [*found, {"say": "two_rulers_angle", **both}]


def slid(way: Way) -> dict | None:
    """How the ruler is slid once its lines lie; None where it need not be."""
    return {"say": f"slide.{_sliding(way)}", "slide": abs(way.slide)} if way.slide else None


def _sliding(way: Way) -> str:
    if way.step == "strip":
        return "strip_marks" if way.kind == "two_marks" else "strip"
    if "slide_along_fresh_cut" in way.notes:
        return "fresh_cut"
    return "measure" if way.slide > 0 else "measure_towards"
