"""The ask `kinds`: the kinds of cloth with their usual usable sides."""

from ..kinds import KINDS


def answer(request: dict) -> dict:
    """Every kind with its default sides in inches, the side along the selvage, and what to ask for."""
    return {
        "kinds": [
            {
                "code": kind.code,
                "length": kind.length,
                "width": kind.width,
                "selvage": kind.selvage,
                "unit": kind.unit,
                "asks": kind.asks,
            }
            for kind in KINDS.values()
        ]
    }
