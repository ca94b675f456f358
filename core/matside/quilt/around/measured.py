"""The top's size inside the borders: as planned, or as it was measured once sewn."""

from ..geometry import Ground
from ..reading import Quilt
from .borders import bordered_size

#: A sewn top that differs by more than this share of a side from its plan was measured wrongly, or sewn so. Ours.
FAR = 0.03


def inner_size(quilt: Quilt, ground: Ground) -> tuple[float, float]:
    """Finished width and height of what the borders go round: of the sewn top where it was measured, its seam
    allowances off."""
    if not quilt.top:
        return ground.patchwork.width, ground.patchwork.height
    taken = 2 * quilt.geometry.piece.seam
    return tuple(float(side - taken) for side in quilt.top)


def finished_size(quilt: Quilt, ground: Ground) -> tuple[float, float]:
    """Finished width and height with the borders on, which binding, backing and batting go by."""
    return bordered_size(*inner_size(quilt, ground), quilt.borders)


def top_fields(quilt: Quilt, ground: Ground) -> dict | None:
    """The measured top beside the planned one, seam allowances on both, and whether they are `far` apart; None where
    none was measured."""
    if not quilt.top:
        return None
    taken = 2 * float(quilt.geometry.piece.seam)
    planned = (ground.patchwork.width + taken, ground.patchwork.height + taken)
    far = any(abs(float(side) - plan) > FAR * plan for side, plan in zip(quilt.top, planned, strict=True))
    return {
        "width": quilt.top[0],
        "height": quilt.top[1],
        "planned": {"width": planned[0], "height": planned[1]},
        "far": far,
    }
