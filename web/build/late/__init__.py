"""Modules of the standard library that are named at the start and used later, or never.

Under the name of each stands what holds its place (held.py); the real ones are in this package.
"""

import sys
from importlib.machinery import PathFinder

#: The real ones that have come, with their files.
came: dict[str, str] = {}


def asked_for(module: str, name: str):
    """What the real module has of that name: it comes into the place that was held for it, and stays."""
    place = vars(sys.modules[module])
    spec = PathFinder.find_spec(f"{__name__}.{module}", __path__)
    if spec is None:
        raise ModuleNotFoundError(f"No module named {module!r}", name=module)
    holder = place.pop("__getattr__")
    try:
        exec(spec.loader.get_code(spec.name), place)
    except BaseException:
        place["__getattr__"] = holder
        raise
    came[spec.name] = spec.origin
    return getattr(sys.modules[module], name)
