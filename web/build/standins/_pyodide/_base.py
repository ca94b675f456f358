"""In place of what runs code for Pyodide: its own few lines when it starts, and the import of a module by its name."""


def eval_code(source: str, names: dict | None = None):
    """What the last of some statements gives; they are in one line, and the last is an expression."""
    *statements, last = source.split(";")
    names = {} if names is None else names
    exec(";".join(statements), names)
    return eval(last.strip(), names)


def pyimport_impl(name: str):
    """The module, or what a module has, of this dotted name."""
    package, _, last = name.rpartition(".")
    return getattr(__import__(package, fromlist=[last]), last) if package else __import__(last)
