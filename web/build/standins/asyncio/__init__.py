"""In place of Python's asyncio: in the page Python answers each request at once, and nothing there is awaited.

Pyodide takes hold of the module when it starts and uses it only where something is awaited.
"""


def __getattr__(name: str):
    raise AttributeError(f"Python in the page awaits nothing: there is no asyncio.{name}")
