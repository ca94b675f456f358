"""`python -m bench [names]`: measures all figures, or those of the modules named, and prints them."""

import importlib
import pkgutil
import sys
from pathlib import Path

FOLDER = Path(__file__).resolve().parent
sys.path.insert(0, str(FOLDER.parent / "web"))

from .phones import phones  # noqa: E402  (it needs the helpers of tests/web)

NOT_FIGURES = {"__main__", "figures", "guides", "phones", "readers"}


def main(wanted: list[str]) -> int:
    """Measures and prints; the status says only whether everything could be measured."""
    names = sorted(module.name for module in pkgutil.iter_modules([str(FOLDER)]) if module.name not in NOT_FIGURES)
    unknown = set(wanted) - set(names)
    if unknown:
        print(f"bench: no figure called {', '.join(sorted(unknown))}; there are {', '.join(names)}")
        return 2
    with phones() as context_maker:
        for name in wanted or names:
            for figure in importlib.import_module(f"bench.{name}").measure(context_maker):
                print(figure, flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
