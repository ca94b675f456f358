"""The ask `seam_test`: what a few sewn diamonds, measured, tell of the seam and of the whole quilt."""

from ..fields import Fields
from ..quilt.geometry import laid
from ..quilt.reading import quilt_within
from ..quilt.sewn.seam_test import SEWN, seam_tested

MOST_SEWN = 20


def answer(request: dict) -> dict:
    """The seam found from `sewn` diamonds (3) of a `quilt` that came out `measured`; see `quilt.sewn.seam_test`."""
    fields = Fields(request)
    sewn, measured = fields.count("sewn", 2, MOST_SEWN, default=SEWN), fields.length("measured")
    with quilt_within(fields.object("quilt")) as quilt:
        geometry, ground = quilt.geometry, laid(quilt.geometry)
    return seam_tested(geometry, ground, measured, sewn)
