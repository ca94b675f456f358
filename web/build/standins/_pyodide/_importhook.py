"""In place of what lets Python import JavaScript's modules: none of ours does.

Pyodide's JavaScript registers some when it starts, and names the packages that one might load.
"""


def register_js_finder() -> None:
    """There is nothing to find."""


def register_windows_finder() -> None:
    """There are no paths of Windows."""


def register_js_module(name: str, module) -> None:
    """It cannot be imported."""


def register_module_not_found_hook(packages) -> None:
    """There is none to load."""


def add_note_to_module_not_found_error(error: ModuleNotFoundError) -> None:
    """There is nothing to add."""
