"""Changes the core on purpose, a little and one at a time, to learn what the tests notice: `python3 build.py mutate`.

Changes are drawn with a seed, made in a copy, and tried by the tests that come by the changed function, the quickest
first. No tool that is at hand fits: one leaves properties and what stands outside functions as they are, another
changes the tree itself, and neither draws a sample by a seed."""
