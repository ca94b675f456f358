"""In place of what makes the documentation of Pyodide's own methods: see _core_docs beside this."""


def get_cmeth_docstring(method) -> str:
    """None."""
    return ""
