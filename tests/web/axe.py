"""The accessibility check of axe-core, run on a page as it stands."""

from playwright.sync_api import Page

from steps.places import WEB

_SCRIPT = WEB / "node_modules" / "axe-core" / "axe.min.js"


def complaints(page: Page) -> list[str]:
    """What axe-core finds wrong, as "rule: element"; nothing when all is well."""
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate(_SCRIPT.read_text("utf-8"))
    found = page.evaluate("axe.run()")
    return [f"{rule['id']}: {node['html']}" for rule in found["violations"] for node in rule["nodes"]]
