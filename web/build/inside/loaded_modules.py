"""What has been loaded so far; imports nothing itself that could swell the list."""

import sys

STDLIB = next(path for path in sys.path if path.endswith(".zip"))


def loaded_modules() -> str:
    """A line for each module: its name, a tab, and its file in the standard library's zip if it comes from there."""
    loaded = {name: _origin(module) for name, module in [*sys.modules.items()]}
    late = getattr(sys.modules.get("late"), "came", {})
    return "\n".join(sorted(f"{name}\t{_file(origin)}" for name, origin in (loaded | late).items()))


def _origin(module) -> str:
    return getattr(getattr(module, "__spec__", None), "origin", None) or ""


def _file(origin: str) -> str:
    return origin[len(STDLIB) + 1 :] if origin.startswith(STDLIB) else ""
