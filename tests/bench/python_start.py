"""Python ready in the page: our start beside that of the unmodified npm package, turn by turn.

On a fresh profile nothing is kept, and the files come from this machine's host. With compiled code kept the files come
from the browser's cache, and so does what it has compiled, after a first start that is not counted and some seconds of
use.
"""

from collections.abc import Iterator
from contextlib import ExitStack

from playwright.sync_api import Page

from host import Host
from phone import until

from .figures import Figure
from .phones import Contexts
from .starts import Started, at_new_addresses, pages, ratio, told

ROUNDS = 11
COMPILING = 8000  # milliseconds after which a browser has stored what it has compiled
SETTLING = 2000  # milliseconds in which the browser before has compiled what it still wanted to
MOST = {"fresh": 0.18, "kept": 0.15}


def measure(contexts: Contexts) -> Iterator[Figure]:
    """The median of the ratios, each of two starts one after the other; each in its turn is the first of its pair."""
    with pages() as both:
        yield _figure("on a fresh profile", "fresh", [_turn(both, n, _fresh(contexts)) for n in range(ROUNDS)])
        with ExitStack() as hosts:
            used = {one: _used(contexts, one, hosts) for one in both}
            pairs = [_turn(both, n, lambda one: _again(used[one], one.start)) for n in range(ROUNDS)]
            yield _figure("with compiled code kept", "kept", pairs)


def _figure(when: str, most: str, pairs: list[tuple[dict, dict]]) -> Figure:
    what = f"Python ready {when}, ours to the unmodified npm package"
    return Figure(what, ratio(pairs), MOST[most], detail=told(pairs))


def _turn(both: tuple[Started, Started], number: int, go) -> tuple[dict, dict]:
    times = {one: go(one) for one in (both if number % 2 else both[::-1])}
    return times[both[0]], times[both[1]]


def _fresh(contexts: Contexts):
    def go(one: Started, url: str) -> dict:
        context = contexts()
        page = context.new_page()
        page.goto(url)
        page.wait_for_timeout(SETTLING)
        times = page.evaluate(one.start)
        context.close()
        return times

    return lambda one: at_new_addresses(one, go)


def _used(contexts: Contexts, one: Started, hosts: ExitStack) -> Page:
    """A page that has started Python once, used it, and was left to what it does afterwards."""
    host = Host(one.folder)
    hosts.callback(host.stop)
    page = contexts().new_page()
    page.goto(host.url)
    _again(page, one.start)
    page.evaluate(one.use)
    page.wait_for_timeout(COMPILING)
    return page


def _again(page: Page, script: str) -> dict:
    page.wait_for_timeout(SETTLING)
    page.reload()
    until(page, "document.readyState === 'complete'")
    return page.evaluate(script)
