"""Cuts the standard library to the modules that start-up and the core load, and compiles them."""

import json
import sys

from archives import read_archive, write_archive
from bytecode import bytecode
from loaded_modules import STDLIB


def cut_stdlib(loaded: str, target: str) -> str:
    """Writes the cut library; returns, as JSON, the modules that are there to be imported with it, and those of them
    that are built into the interpreter.
    """
    files = dict(line.split("\t") for line in loaded.splitlines())
    library = read_archive(STDLIB)
    write_archive(target, {f"{file}c": bytecode(library[file], _shown(file)) for file in files.values() if file})
    return json.dumps({"modules": sorted(files), "builtins": sorted(files.keys() & set(sys.builtin_module_names))})


def _shown(file: str) -> str:
    """Where tracebacks say that a file is: what comes late is said to be where its place was held."""
    return f"{STDLIB}/{file.removeprefix('late/')}"
