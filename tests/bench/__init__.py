"""The figures of the project: `python3 build.py bench`, one module a figure. Nothing here
passes or fails on a stopwatch.
"""
