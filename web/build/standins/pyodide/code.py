"""In place of what runs code: the page calls functions of the core, and runs none."""
