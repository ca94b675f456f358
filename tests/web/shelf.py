"""Browser contexts that tests have one after another, each as good as new: to make one costs as
much processor as half a test.

What a test did to its pages goes with them. What it left in the context itself is cleared away; what cannot be cleared
away (an init script, a route, another host than the session's own) takes the context with it. `page.clock` is such a
thing too, but is not noticed: the clocks of these tests are in clocks.py."""

import json
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from urllib.parse import urlsplit

from playwright.sync_api import Browser, BrowserContext, Error, Page

from phone import SCREEN, slowed

# What holds for all pages of a context from then on, and has no way back.
LASTING = ("add_init_script", "expose_binding", "expose_function", "route", "route_from_har", "route_web_socket", "set_default_navigation_timeout",
           "set_default_timeout", "set_extra_http_headers", "set_geolocation")  # fmt: skip
# What is left in the host's name in any of the browser's places, by name.
LEFT = """async () => {
  const left = [...Object.keys(localStorage), document.cookie];
  left.push(...(await indexedDB.databases()).map(({ name }) => name), ...(await caches.keys()));
  left.push(...(await navigator.serviceWorker.getRegistrations()).map(({ scope }) => scope));
  const { held, pending } = await navigator.locks.query();
  left.push(...[...held, ...pending].map(({ name }) => name));
  for await (const name of (await navigator.storage.getDirectory()).keys()) left.push(name);
  return left.filter(Boolean).join();
}"""
TRIES = 50  # the browser takes its time with what is still at work when it is cleared away


def origin_of(url: str) -> str:
    """Scheme, host and port: "http://127.0.0.1:80" of "http://127.0.0.1:80/a/b"."""
    return "{0.scheme}://{0.netloc}".format(urlsplit(url))


class Shelf:
    """Lends contexts, and takes them back. Only those that have seen no other host than that of `quiet`, the address of
    a page that does nothing, are lent again."""

    def __init__(self, browser: Browser, quiet: str) -> None:
        self._browser = browser
        self._quiet = quiet
        self._free: dict[str, list[_Lent]] = {}

    @contextmanager
    def lent(self, **settings) -> Iterator[BrowserContext]:
        """A context with empty storage and the phone's settings, but for those that are named."""
        free = self._free.setdefault(json.dumps(settings, sort_keys=True), [])
        taken = free.pop() if free else _Lent(slowed(self._browser.new_context(**{**SCREEN, **settings})), self._quiet)
        yield taken.context
        if taken.as_new():
            free.append(taken)
        else:
            taken.context.close()

    def close(self) -> None:
        """Closes those that are on the shelf."""
        for free in self._free.values():
            for each in free:
                each.context.close()


class _Lent:
    """A context, and what its tests do to it."""

    def __init__(self, context: BrowserContext, quiet: str) -> None:
        self.context = context
        self._quiet = quiet
        self._origin = origin_of(quiet)
        self._lasting = False
        self._listening: list[tuple] = []
        self._keeper: Page | None = None
        context.on("request", lambda request: self._note(request.url))
        self._listen, context.on, context.once = context.on, self._on, partial(self._lasts, context.once)
        for name in LASTING:
            setattr(context, name, partial(self._lasts, getattr(context, name)))

    def as_new(self) -> bool:
        """Clears away what the test has left; whether nothing is left, which a browser that was
        brought to its knees cannot say.
        """
        try:
            return self._cleared()
        except Error:
            return False

    def _cleared(self) -> bool:
        for page in self.context.pages:
            if page is not self._keeper:
                page.close()
        for name, told in self._listening:
            self.context.remove_listener(name, told)
        self._listening.clear()
        if self._lasting:
            return False
        self.context.clear_permissions()
        self.context.grant_permissions(SCREEN["permissions"])
        self.context.set_offline(False)
        return self._emptied()

    def _emptied(self) -> bool:
        self._keep()
        self.context.clear_cookies()
        self._cleaner.send("ServiceWorker.stopAllWorkers")  # one that is installing would go on putting files away
        for _ in range(TRIES):
            self._cleaner.send("Storage.clearDataForOrigin", {"origin": self._origin, "storageTypes": "all"})
            if not self._keeper.evaluate(LEFT):
                return True
            self._keeper.wait_for_timeout(20)
        return False

    def _keep(self) -> None:
        """Sees to a page that stays: the browser clears away in the name of a page, and tells only
        one of the host what is left.
        """
        if self._keeper is None:
            self._keeper = self.context.new_page()
            self._keeper.goto(self._quiet)
            self._cleaner = self.context.new_cdp_session(self._keeper)
            self._cleaner.send("ServiceWorker.enable")

    def _note(self, url: str) -> None:
        if url.startswith("http") and origin_of(url) != self._origin:
            self._lasting = True

    def _on(self, name: str, told) -> None:
        self._listening.append((name, told))
        self._listen(name, told)

    def _lasts(self, done, *values, **named):
        self._lasting = True
        return done(*values, **named)
