"""In place of Pyodide's event loop, which asyncio would run on: see asyncio beside this."""


def _initialize_event_loop() -> None:
    """Pyodide calls it when it starts."""
