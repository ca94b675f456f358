"""In place of the border to JavaScript as Python sees it: ours never looks."""
