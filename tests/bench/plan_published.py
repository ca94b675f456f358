"""How near plans for published instances of cutting stock are to their bounds, after the page's
default time and its default steps.

Best known values are for patterns in three stages; a plan divides a cloth once at the most, so that it can take more
bins than are known to do, or make less of one bin (`tests/core/published.py`)."""

import sys
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import Page

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "core"))

from matside.asks.plan import USUAL_WORK
from published import BINS, ONE_BIN, Instance, request

from .figures import Figure
from .phones import Contexts
from .plan_gap import MOST, gap, in_the_page, in_usual_work, python_page

_FOR_EVER = 1_000_000_000


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The widest gap of all instances, in the page and by steps; the bins that are filled
    from what each holds come after.
    """
    with python_page(contexts) as page:
        yield _bins(
            "in the page's default time", {name: in_the_page(page, _asked(instance)) for name, instance in BINS.items()}
        )
        yield _bins(
            f"in {USUAL_WORK} steps", {name: in_usual_work(_asked(instance)) for name, instance in BINS.items()}
        )
        yield _one_bin(page)


def _asked(instance: Instance, count: int = 2_000, turned: bool = False) -> dict:
    return {**request(instance, count, turned), "work": _FOR_EVER}


def _bins(where: str, found: dict[str, dict]) -> Figure:
    told = "\n    ".join(_line(BINS[name], name, each) for name, each in found.items())
    return Figure(
        f"Gap of plans for published instances {where}, the widest", max(map(gap, found.values())), MOST, "%", told
    )


def _line(instance: Instance, name: str, found: dict) -> str:
    best, bound = _ends(found)
    missing = f", {best['missing_area']:.0f} sq in missing" if best["missing_area"] else ""
    bins, least = best["area_opened"] / instance.bin_area, bound["area_opened"] / instance.bin_area
    return f"{name}: {instance.best} known, {bins:.0f} taken, bound {least:.0f}, gap {gap(found):.2f} %{missing}"


def _one_bin(page: Page) -> Figure:
    lines, gaps = [], []
    for name, instance in ONE_BIN.items():
        found = [in_the_page(page, _asked(instance, 1, turned)) for turned in (False, True)]
        gaps += map(gap, found)
        made, most = ([round(instance.area - each["missing_area"]) for each in end] for end in zip(*map(_ends, found)))
        lines.append(
            f"{name}: {instance.best} known, {made[0]} along, {made[1]} across, bounds {most[0]} and {most[1]}, at best {100 * max(made) / instance.best:.1f} % of what is known"
        )
    return Figure(
        "Gap of plans for one published bin in the page's default time, the widest",
        max(gaps),
        MOST,
        "%",
        "\n    ".join(lines),
    )


def _ends(found: dict) -> tuple[dict, dict]:
    """The best plan's areas and the bound's."""
    told = found["answer"]
    if told is None:
        return found["last"]["best"], found["last"]["bound"]
    return told, told if told["proven"] else told["bound"]
