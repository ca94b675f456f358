"""Browser contexts that tests have one after another, each as good as new: to make one costs as much processor as half
a test. With each goes a page, its first: what it loads again it has compiled and laid out before.

What a test did to the page and to the context is undone, and what it left is cleared away; what has no way back (a
media feature emulated, another host than the session's own) takes the page or the context with it."""

import json
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from functools import partial
from urllib.parse import urlsplit

from playwright.sync_api import Browser, BrowserContext, CDPSession, Error, Page

from phone import SCREEN, none_at_load, slowed

# What holds from then on for a page, or for all pages of a context, and gives its way back.
UNDONE = ("add_init_script", "route")
# What has none.
LASTING = ("emulate_media", "expose_binding", "expose_function", "route_from_har", "route_web_socket",
           "set_default_navigation_timeout", "set_default_timeout", "set_extra_http_headers", "set_geolocation")  # fmt: skip
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
# A page's own place is cleared by the page itself; its clock may still be in Playwright's hands.
PAGE_IS_NEW = "() => { sessionStorage.clear(); return !('__pwClock' in window); }"
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


class _Done:
    """What a test does to a context or a page that would last beyond the test."""

    def __init__(self, to: BrowserContext | Page) -> None:
        self.lasts = False
        self.back = ExitStack()
        self._to = to
        self._listen, to.on, to.once = to.on, self._on, partial(self._lasting, to.once)
        for names, done in ((UNDONE, self._undone), (LASTING, self._lasting)):
            for name in names:
                if hasattr(to, name):
                    setattr(to, name, partial(done, getattr(to, name)))

    def undo(self) -> None:
        """Goes back to what was there before the test."""
        self.back.close()

    def _on(self, name: str, told) -> None:
        self._listen(name, told)
        self.back.callback(self._to.remove_listener, name, told)

    def _undone(self, do, *values, **named):
        way_back = do(*values, **named)
        self.back.push(way_back)
        return way_back

    def _lasting(self, do, *values, **named):
        self.lasts = True
        return do(*values, **named)


class _LentPage:
    """A page that tests have one after another."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.is_out = False
        self._done = _Done(page)
        self._size = page.viewport_size

    def as_new(self, quiet: str) -> bool:
        """Undoes what the test did; whether nothing of it is left."""
        self.is_out = False
        if self.page.is_closed() or self._done.lasts:
            return False
        none_at_load(self.page)
        self._done.undo()
        if self.page.viewport_size != self._size:
            self.page.set_viewport_size(self._size)
        self.page.goto(quiet)
        return self.page.evaluate(PAGE_IS_NEW)


class _Lent:
    """A context, and what its tests do to it."""

    def __init__(self, context: BrowserContext, quiet: str) -> None:
        self.context = context
        self._quiet = quiet
        self._origin = origin_of(quiet)
        self._elsewhere = False
        self._keeper: Page | None = None
        self._first: _LentPage | None = None
        self._done = _Done(context)
        self._new, context.new_page = context.new_page, self._new_page
        self._new_session, context.new_cdp_session = context.new_cdp_session, self._session

    def as_new(self) -> bool:
        """Clears away what the test has left; whether nothing is left, which a browser that was
        brought to its knees cannot say.
        """
        try:
            return self._cleared()
        except Error:
            return False

    def _cleared(self) -> bool:
        self.context.set_offline(False)
        if self._first and not self._first.as_new(self._quiet):
            self._first = None
        for page in self.context.pages:
            if page not in (self._keeper, self._first and self._first.page):
                page.close()
        self._done.undo()
        if self._elsewhere or self._done.lasts:
            return False
        self.context.clear_permissions()
        self.context.grant_permissions(SCREEN["permissions"])
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
            self._keeper = self._open()
            self._keeper.goto(self._quiet)
            self._cleaner = self._new_session(self._keeper)
            self._cleaner.send("ServiceWorker.enable")

    def _open(self) -> Page:
        """A new page; where it goes is noted."""
        page = self._new()
        go = page.goto

        def noted(url: str, **named):
            self._elsewhere = self._elsewhere or (url.startswith("http") and origin_of(url) != self._origin)
            return go(url, **named)

        page.goto = noted
        return page

    def _new_page(self) -> Page:
        """The page that goes with the context; new ones for who asks for more than one."""
        if self._first is None:
            self._first = _LentPage(self._open())
        if self._first.is_out:
            return self._open()
        self._first.is_out = True
        return self._first.page

    def _session(self, page: Page) -> CDPSession:
        """A session with the browser, which ends with the test: what it overrides would stay with the page."""
        session = self._new_session(page)
        self._done.back.callback(_ended, session)
        return session


def _ended(session: CDPSession) -> None:
    with suppress(Error):  # it has ended where its page is gone
        session.detach()
