"""The settings of a Firefox for tests: no errands of its own, whatever is not on this machine through a
proxy, no questions after a kill.
"""

import json
from pathlib import Path


def write(profile: Path, proxy: str, more: dict | None = None) -> None:
    """Writes the settings of a profile, which is made if need be, with further ones; `proxy` is "host:port"."""
    host, port = proxy.split(":")
    settings = {
        "network.proxy.type": 1,
        "network.proxy.http": host,
        "network.proxy.http_port": int(port),
        "network.proxy.ssl": host,
        "network.proxy.ssl_port": int(port),
        "dom.security.https_first": False,
        "dom.w3c_touch_events.enabled": 1,
        "ui.prefersReducedMotion": 1,
        "toolkit.startup.max_resumed_crashes": -1,
        "browser.sessionstore.resume_from_crash": False,
        "browser.shell.checkDefaultBrowser": False,
        "datareporting.policy.dataSubmissionEnabled": False,
        "services.settings.server": "data:,",
        "network.captive-portal-service.enabled": False,
        "network.connectivity-service.enabled": False,
        "browser.safebrowsing.update.enabled": False,
        "extensions.systemAddon.update.enabled": False,
        **(more or {}),
    }
    profile.mkdir(parents=True, exist_ok=True)
    lines = [f"user_pref({json.dumps(name)}, {json.dumps(value)});" for name, value in settings.items()]
    (profile / "user.js").write_text("\n".join(lines), "utf-8")
