"""Draws the PNG icons of web/icons from its two SVG files, with Chromium. Run it after changing a drawing:

.venv/bin/python web/build/draw_icons.py
"""

from playwright.sync_api import Page, sync_playwright

from steps.places import WEB
from steps.testing import find_browser

ICONS = WEB / "icons"

# name of the drawing, side in pixels, name of the picture
PICTURES = (
    ("icon", 192, "icon-192"),
    ("icon", 512, "icon-512"),
    ("icon-maskable", 192, "icon-maskable-192"),
    ("icon-maskable", 512, "icon-maskable-512"),
    ("icon-maskable", 180, "icon-180"),
)


def draw(page: Page, drawing: str, side: int, picture: str) -> None:
    """Writes one PNG; what lies outside the drawing stays transparent."""
    page.set_viewport_size({"width": side, "height": side})
    svg = (ICONS / f"{drawing}.svg").read_text("utf-8")
    page.set_content(f"<style>body{{margin:0}}svg{{display:block}}</style>{svg}")
    page.screenshot(path=ICONS / f"{picture}.png", omit_background=True)


def main() -> None:
    """Draws every picture."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=find_browser(), args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_page()
        for drawing, side, picture in PICTURES:
            draw(page, drawing, side, picture)
        browser.close()


if __name__ == "__main__":
    main()
