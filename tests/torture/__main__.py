"""`python -m torture [parts] [--minutes N]`: goes on with the long runs and prints how far they are."""

import argparse
import signal
import sys
import time
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS / "web"), str(TESTS / "core")]

from .parts import FOLDER, PARTS  # noqa: E402  (it needs the helpers of tests/web)
from .state import State  # noqa: E402

TITLES = {
    "writes": "killed at a write of a scripted sitting",
    "kills": "killed at a random moment",
    "firefox": "Firefox killed at a random moment",
    "door": "made-up requests",
    "lengths": "made-up lengths",
    "copies": "changed copies",
    "calls": "calls into both interpreters",
    "model": "runs of the model",
}


def main(arguments: list[str]) -> int:
    """Runs the parts named, or all, one after another; the status says whether anything was lost."""
    parser = argparse.ArgumentParser(prog="torture")
    parser.add_argument("parts", nargs="*", metavar="part", help=f"of {', '.join(PARTS)}; all of them if none is named")
    parser.add_argument(
        "--minutes", type=float, default=600, help="for each part; what is not done then goes on the next time"
    )
    parsed = parser.parse_args(arguments)
    unknown = set(parsed.parts) - set(PARTS)
    if unknown:
        parser.error(f"there is no {', '.join(sorted(unknown))}; there are {', '.join(PARTS)}")
    state = State(FOLDER / "state.json")
    signal.signal(signal.SIGTERM, signal.default_int_handler)  # however it is stopped, its browser ends with it
    for name in parsed.parts or PARTS:
        PARTS[name](state, time.monotonic() + parsed.minutes * 60)
        print(row(name, state.of(name)), flush=True)
    return int(any(state.of(name).get("lost") for name in PARTS))


def row(name: str, known: dict) -> str:
    """One line of the table: what was tried, how often, and what was lost."""
    back = known.get("ledger", {}).get("brought_back", 0)
    lost = "; ".join(known.get("lost", [])[:5]) or "nothing"
    return f"| {TITLES[name]} | {known.get('done', 0):,} | {f'{back} databases thrown away and read back; ' if back else ''}{lost} |"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
