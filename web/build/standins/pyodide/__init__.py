"""In place of what Pyodide offers to Python: there is nothing that ours asks of it."""
