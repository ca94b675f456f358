"""The page's clocks, both the one on the wall and the one that only goes on, in the hands of
a test: they go on by leaps.
"""

# Time goes on as ever, and by leaps besides: no test waits for the half second within which a
# second cut would be a bump.
LEAPING = """
let leapt = 0;
window.leap = (ms) => { leapt += ms; };
for (const clock of [Date, performance]) {
  const real = clock.now.bind(clock);
  clock.now = () => real() + leapt;
}
"""
# Time stands but for leaps. `passed` still tells how long the page has really been open, in ms.
STANDING = """
let leapt = 0;
window.leap = (ms) => { leapt += ms; };
window.passed = performance.now.bind(performance);
for (const clock of [Date, performance]) {
  const stood = clock.now();
  clock.now = () => stood + leapt;
}
"""
