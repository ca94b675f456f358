"""The phone of the tests itself: what was stored outlives a killed browser, and complaints are heard."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from playwright.sync_api import Page

from host import Host
from phone import Phone, until

STORE = """(text) => new Promise((resolve, reject) => {
  const opening = indexedDB.open('try', 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore('kept');
  opening.onsuccess = () => {
    const write = opening.result.transaction('kept', 'readwrite', { durability: 'strict' });
    write.objectStore('kept').put(text, 'word');
    write.oncomplete = resolve;
    write.onabort = () => reject(write.error);
  };
})"""

STORED = """new Promise((resolve) => {
  const opening = indexedDB.open('try', 1);
  opening.onsuccess = () => {
    const read = opening.result.transaction('kept').objectStore('kept').get('word');
    read.onsuccess = () => resolve(read.result);
  };
})"""


def test_a_killed_browser_comes_back_with_what_was_stored_and_offline(phone: Phone, plain_site: Host):
    page = phone.open(plain_site.url)
    page.evaluate("offline.start()")
    until(page, "offline.state === 'ready'")
    page.evaluate(STORE, "seven")
    phone.kill()
    plain_site.stop()
    page = phone.open(plain_site.url)
    assert page.evaluate(STORED) == "seven"
    assert until(page, "window.word") == "one"


def test_every_kind_of_complaint_is_heard(page: Page, plain_site: Host, watched):
    page.goto(plain_site.url)
    page.evaluate("console.error('said')")
    page.evaluate("void setTimeout(() => { throw new Error('thrown'); })")
    page.evaluate("void Promise.reject(new Error('refused'))")
    page.evaluate("void fetch('http://example.invalid/').catch(() => {})")

    def unheard() -> list[str]:
        return [
            part
            for part in ("said", "thrown", "refused", "example.invalid")
            if part not in " ".join(watched.unexpected())
        ]

    for _ in range(500):
        if unheard():
            page.wait_for_timeout(20)
    lacking = unheard()
    watched.expect("")
    assert lacking == []


ASKING = {
    "index.html": "<!doctype html><link rel='icon' href='data:,'><script src='page.js'></script>",
    "page.js": "new Worker('worker.js'); navigator.serviceWorker.register('service.js');",
    "worker.js": "fetch('http://worker.invalid/').catch(() => {}); new WebSocket('ws://socket.invalid/');",
    "service.js": "oninstall = (event) => event.waitUntil(fetch('https://service.invalid/').catch(() => {}));",
}


def test_what_workers_and_the_service_worker_ask_of_other_hosts_is_heard(page: Page, watched, tmp_path: Path):
    # A page without any policy, as nothing else would get so far.
    for name, text in ASKING.items():
        (tmp_path / name).write_text(text)
    with freely_served(tmp_path) as url:
        page.goto(url)
        wanted = ("worker.invalid", "socket.invalid", "service.invalid")
        for _ in range(500):
            heard = " ".join(watched.unexpected())
            if all(host in heard for host in wanted):
                break
            page.wait_for_timeout(20)
    watched.expect("")
    assert [host for host in wanted if host not in heard] == []


@contextmanager
def freely_served(folder: Path) -> Iterator[str]:
    """A folder on a server that sends no headers of its own."""

    class Quiet(SimpleHTTPRequestHandler):
        def log_message(self, *_arguments) -> None:
            """Says nothing."""

    with ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=folder)) as server:
        threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()


def test_the_policy_lets_nothing_inline_run(page: Page, plain_site: Host, watched):
    watched.expect("Content Security Policy")
    watched.expect("Trusted")
    page.goto(plain_site.url)
    # By ways that ask for no trusted text, or past its refusal: then the policy for scripts and
    # styles is what stops them.
    page.evaluate("""() => {
      const script = document.createElement('script');
      script.append(document.createTextNode('window.ran = true'));
      document.body.append(script);
      const bold = document.createElement('b');
      bold.textContent = 'x';
      bold.setAttribute('style', 'color: red');
      try { bold.setAttribute('onclick', 'window.ran = true'); } catch { window.refused = true; }
      document.body.append(bold);
      bold.click();
    }""")
    assert page.evaluate("window.ran") is None
    assert page.evaluate("getComputedStyle(document.querySelector('b')).color") == "rgb(0, 0, 0)"
