"""What would take too long for every test run: kills by the thousand, every write of a sitting, inputs by the million.

`python3 build.py torture` runs it, piece by piece; it can be stopped at any time and goes on where it was.
"""
