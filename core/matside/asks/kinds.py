"""The ask `kinds`: the kinds of cloth with their usual usable sides."""

from ..kinds import KINDS


def answer(request: dict) -> dict:
    """Every kind with its default sides in inches, the side along the selvage, how many selvages
    it has, and what to ask for.
    """
    return {
        "kinds": [
            {
                "code": kind.code,
                "length": kind.length,
                "width": kind.width,
                "selvage": kind.selvage,
                "selvages": kind.selvages,
                "unit": kind.unit,
                "asks": kind.asks,
            }
            for kind in KINDS.values()
        ]
    }
