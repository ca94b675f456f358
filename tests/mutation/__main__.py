"""`python -m mutation [modules] [--sample N] [--seed S]`: changes the core, and prints what the tests did not notice."""

import argparse
import hashlib
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from torture.state import State

from .accepted import Accepted
from .changes import Change, drawn
from .reach import Reach
from .trial import Trial

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / ".build" / "mutation"
PACKAGE = "core/matside"
MODULES = ("guide", "rulers", "drift", "cloth", "shapes")
AT_ONCE = 2


def main(arguments: list[str]) -> int:
    """Tries the changes that are drawn; the status says whether one was left over."""
    parser = argparse.ArgumentParser(prog="mutate")
    parser.add_argument(
        "modules", nargs="*", default=MODULES, help=f"below {PACKAGE}; {', '.join(MODULES)} if none is named"
    )
    parser.add_argument("--sample", type=int, default=60, help="how many changes")
    parser.add_argument("--seed", type=int, default=1, help="which ones")
    parsed = parser.parse_args(arguments)
    missing = [
        name for name in parsed.modules if not any((ROOT / PACKAGE / f"{name}{end}").exists() for end in ("", ".py"))
    ]
    if missing:
        parser.error(f"there is no {', '.join(missing)} in {PACKAGE}")
    run = Run(ROOT, FOLDER, PACKAGE, Accepted.read())
    found = run.run(drawn(ROOT / PACKAGE, parsed.modules, parsed.sample, parsed.seed))
    print("\n".join(table(found, run.accepted)))
    return int(any(_state(change, noticed, run.accepted) == "left over" for change, noticed in found.items()))


class Run:
    """Changes, tried two at a time; what is known of one is kept, so that a run can be stopped and goes on."""

    def __init__(self, root: Path, folder: Path, package: str, accepted: Accepted) -> None:
        self.root, self.folder, self.package, self.accepted = root, folder, package, accepted
        self.reach = Reach(folder / "reach", root / package)
        self._state = State(folder / "outcomes.json")
        self._tests = hashlib.sha256()
        for path in sorted((root / "tests" / "core").glob("*.py")):
            self._tests.update(path.read_bytes())
        self._lock = threading.Lock()

    def run(self, changes: list[Change]) -> dict[Change, bool]:
        """Whether each change was noticed."""
        found = {change: self._known(change) for change in changes}
        to_try = [change for change, noticed in found.items() if noticed is None and not self.accepted.has(change)]
        if to_try:
            self._note()
            begun = time.monotonic()
            trials = [Trial(self.root, self.folder / f"copy-{i}", self.package) for i in range(AT_ONCE)]
            with ThreadPoolExecutor(AT_ONCE) as pool:
                for change, noticed in zip(to_try, pool.map(lambda one: self._tried(one, trials), to_try)):
                    found[change] = noticed
            print(f"{len(to_try)} changes tried in {(time.monotonic() - begun) / 60:.0f} minutes", flush=True)
        return {change: bool(noticed) for change, noticed in found.items()}

    def _note(self) -> None:
        units = [
            self.package,
            *sorted(f"tests/core/{path.name}" for path in (self.root / "tests/core").glob("test_*.py")),
        ]
        new = [unit for unit in units if not self.reach.note_path(self.root, unit).exists()]
        if new:
            print(f"Noting what the tests of {len(new)} files come by", flush=True)
            trials = [Trial(self.root, self.folder / f"noting-{i}", self.package) for i in range(AT_ONCE)]
            for trial in trials:
                trial.instrument()
            with ThreadPoolExecutor(AT_ONCE) as pool:
                list(
                    pool.map(
                        lambda unit: self._with(
                            trials, lambda trial: trial.note(unit, self.reach.note_path(self.root, unit))
                        ),
                        new,
                    )
                )
        self.reach.read(self.root, units)
        if failing := self.reach.failing():
            print(f"{len(failing)} tests notice nothing, as they fail in a copy: {', '.join(failing[:5])}", flush=True)

    def _tried(self, change: Change, trials: list[Trial]) -> bool:
        outcome = self._with(trials, lambda trial: trial.tried(change, self.reach))
        with self._lock:
            self._state.keep(
                change.key(self._source(change)),
                noticed=outcome.noticed,
                how=outcome.how,
                tests=self._tests.hexdigest(),
            )
            print(
                f"{'noticed' if outcome.noticed else 'LEFT OVER'}  {change.file}:{change.line}  {change.words}  ({outcome.how})",
                flush=True,
            )
        return outcome.noticed

    def _with(self, trials: list[Trial], do):
        """Does something with a copy that nobody else works in."""
        with self._lock:
            trial = trials.pop()
        try:
            return do(trial)
        finally:
            with self._lock:
                trials.append(trial)

    def _known(self, change: Change) -> bool | None:
        """What an earlier run found: what was left over is tried again by other tests."""
        known = self._state.of(change.key(self._source(change)))
        return known.get("noticed") if known.get("noticed") or known.get("tests") == self._tests.hexdigest() else None

    def _source(self, change: Change) -> bytes:
        return (self.root / self.package / change.file).read_bytes()


def _state(change: Change, noticed: bool, accepted: Accepted) -> str:
    return "noticed" if noticed else "accepted" if accepted.has(change) else "left over"


def table(found: dict[Change, bool], accepted: Accepted) -> list[str]:
    """What was noticed, folder by folder, and what was left over, change by change."""
    rows: dict[str, dict[str, int]] = {}
    for change, noticed in found.items():
        part = rows.setdefault(change.file.split("/")[0], {"noticed": 0, "accepted": 0, "left over": 0})
        part[_state(change, noticed, accepted)] += 1
    rows["all"] = {name: sum(row[name] for row in rows.values()) for name in ("noticed", "accepted", "left over")}
    lines = ["", "| part | changes | noticed | accepted | left over | share noticed |", "|---|---|---|---|---|---|"]
    for part, row in sorted(rows.items(), key=lambda one: (one[0] == "all", one[0])):
        counted = row["noticed"] + row["left over"]
        share = f"{row['noticed'] / counted:.0%}" if counted else ""
        lines.append(
            f"| {part} | {sum(row.values())} | {row['noticed']} | {row['accepted']} | {row['left over']} | {share} |"
        )
    left = sorted(change for change, noticed in found.items() if _state(change, noticed, accepted) == "left over")
    return [*lines, "", *(f"left over: {one.file}:{one.line}: {one.words}   in: {one.text}" for one in left)]


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
