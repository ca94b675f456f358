"""What a page with Python takes of the machine's memory: its process, beside one with the unmodified npm package."""

from collections.abc import Iterator
from pathlib import Path
from statistics import median

from .figures import Figure
from .phones import Contexts
from .starts import Started, at_new_addresses, pages

ROUNDS = 5
MOST = 130  # million bytes
SETTLING = 3000  # milliseconds


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The medians, once Python has answered and a while has passed; where the system tells what a process takes."""
    if not Path("/proc/self/smaps_rollup").exists():
        return
    with pages() as (ours, stock):
        taken = {
            one: [at_new_addresses(one, lambda *at: _taken(contexts, *at)) for _ in range(ROUNDS)]
            for one in (ours, stock)
        }
    yield Figure(
        "Memory of a page with Python ready",
        median(taken[ours]),
        MOST,
        "MB",
        f"ours {_all(taken[ours])}, unmodified {_all(taken[stock])}",
    )


def _all(figures: list[float]) -> str:
    return " / ".join(f"{each:.0f}" for each in sorted(figures)) + " MB"


def _taken(contexts: Contexts, one: Started, url: str) -> float:
    context = contexts()
    before = _renderers()
    page = context.new_page()
    page.goto(url)
    page.evaluate(one.start)
    page.wait_for_timeout(SETTLING)
    taken = max(_proportional(process) for process in _renderers() - before)
    context.close()
    return taken


def _renderers() -> set[Path]:
    """The processes that show pages, of all browsers on this machine."""
    return {process for process in Path("/proc").glob("[0-9]*") if b"--type=renderer" in _command(process)}


def _command(process: Path) -> bytes:
    try:
        return (process / "cmdline").read_bytes()
    except OSError:  # it ended just now
        return b""


def _proportional(process: Path) -> float:
    """Million bytes; what is shared between processes counts for each in part."""
    lines = (process / "smaps_rollup").read_text().splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith("Pss:")) * 1024 / 1e6
