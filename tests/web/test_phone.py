"""The phone of the tests itself: what was stored outlives a killed browser, and complaints are heard."""

from host import Host
from phone import Phone, until
from playwright.sync_api import Page

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
        return [part for part in ("said", "thrown", "refused", "example.invalid") if part not in " ".join(watched.unexpected())]

    for _ in range(500):
        if unheard():
            page.wait_for_timeout(20)
    lacking = unheard()
    watched.expect("")
    assert lacking == []


def test_the_policy_lets_nothing_inline_run(page: Page, plain_site: Host, watched):
    watched.expect("Content Security Policy")
    page.goto(plain_site.url)
    page.evaluate("""() => {
      const script = document.createElement('script');
      script.textContent = 'window.ran = true';
      document.body.append(script);
      document.body.insertAdjacentHTML('beforeend', '<b style="color: red" onclick="window.ran = true">x</b>');
      document.querySelector('b').click();
    }""")
    assert page.evaluate("window.ran") is None
    assert page.evaluate("getComputedStyle(document.querySelector('b')).color") == "rgb(0, 0, 0)"
