"""One stretch of made-up inputs from the shell; prints what failed, and ends with status 1 if anything did."""

import sys

from . import run_door, run_lengths

_RUNS = {"door": run_door, "lengths": run_lengths}


def main(arguments: list[str]) -> int:
    """Runs `door` or `lengths` from a number on, so many."""
    what, *numbers = arguments
    failures = _RUNS[what](*map(int, numbers))
    for failure in failures:
        print(failure)
    print(f"{numbers[2]} tried, {len(failures)} failed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
