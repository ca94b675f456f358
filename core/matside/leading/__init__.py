"""What a leader prepares for a class: tools, time, portions from week to week, swaps, and what goes into which kit.

- `strips`: all that is cut, strip by strip, and strips dealt out evenly;
- `tools`: what everyone needs at the mat, and what can be shared;
- `timing`: how long the cutting takes;
- `labels`: what goes into a kit, by the way in which the kits are made;
- `described`: all of it as plain data.
"""
