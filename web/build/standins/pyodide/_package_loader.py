"""In place of what unpacks packages for Pyodide: the page puts the core's wheel onto Python's path as it is.

Pyodide's JavaScript asks for two folders when it starts, and tells which packages are there.
"""

import sys


class _Folder:
    def __init__(self, path: str) -> None:
        self._path = path

    def __str__(self) -> str:
        return self._path


SITE_PACKAGES = _Folder(f"/lib/python{sys.version_info.major}.{sys.version_info.minor}/site-packages")
DSO_DIR = _Folder("/usr/lib")


def init_loaded_packages() -> None:
    """There is none to make known."""
