"""Cuts the standard library to the modules that start-up and the core load, and compiles them."""

import json

from archives import read_archive, write_archive
from bytecode import bytecode
from loaded_modules import STDLIB

# asyncio, zipfile and shutil import these only where they exist, and the page uses none of what they add.
DISPENSABLE = ("_ssl.py", "ssl.py", "base64.py", "bz2.py", "lzma.py", "compression/", "concurrent/__init__.py")


def cut_stdlib(loaded: str, target: str) -> str:
    """Writes the cut library; returns, as a JSON list, the modules that are there to be imported with it."""
    files = {
        name: file
        for name, file in (line.split("\t") for line in loaded.splitlines())
        if not file.startswith(DISPENSABLE)
    }
    source = read_archive(STDLIB)
    write_archive(target, {f"{file}c": bytecode(source[file], f"{STDLIB}/{file}") for file in files.values() if file})
    return json.dumps(sorted(files))
