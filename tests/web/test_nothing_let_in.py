"""What the policy lets no script do, its own included, where the browser knows Trusted Types; and
that others lose nothing by it.
"""

import subprocess

import pytest
from playwright.sync_api import BrowserContext, Error, Page

from host import Host
from phone import Watched
from quilter import app_folder, count_screen
from steps.places import WEB, tool

OURS = "worker/python-worker.js"


@pytest.fixture
def own_page(context: BrowserContext, watched: Watched, site: Host) -> Page:
    """The page with its first answer: Python's worker has started under the policy."""
    return count_screen(context.new_page(), site.url)


ATTEMPTS = {
    "document.body.innerHTML = '<b>x</b>'": "TrustedHTML",
    "document.body.insertAdjacentHTML('beforeend', '<b>x</b>')": "TrustedHTML",
    "new DOMParser().parseFromString('<b>x</b>', 'text/html')": "TrustedHTML",
    "document.createElement('iframe').srcdoc = '<b>x</b>'": "TrustedHTML",
    "document.createElement('script').text = 'x'": "TrustedScript",
    "document.createElement('script').src = 'x.js'": "TrustedScriptURL",
    "new SharedWorker('x.js')": "TrustedScriptURL",
    "navigator.serviceWorker.register('x.js')": "TrustedScriptURL",
    "trustedTypes.createPolicy('another', {})": "disallowed",
    "trustedTypes.createPolicy('matside', {})": "already exists",
}


def test_a_text_becomes_neither_markup_nor_script(own_page: Page, watched: Watched):
    watched.expect("Trusted")
    watched.expect("Creating a TrustedTypePolicy")
    for attempt, kind in ATTEMPTS.items():
        with pytest.raises(Error, match=kind):
            own_page.evaluate(f"async () => {{ await ({attempt}); }}")


def test_a_text_is_no_worker_s_address_either(own_page: Page, watched: Watched):
    # The page puts a worker that only fails in the place of one that may not be made, so that no error comes of it.
    watched.expect("Trusted")
    found = own_page.evaluate("""() => new Promise((told) => {
      document.addEventListener('securitypolicyviolation', ({ violatedDirective, sample }) => told([violatedDirective, sample]));
      new Worker('x.js');
    })""")
    assert found[0] == "require-trusted-types-for" and "x.js" in found[1]


def test_only_scripts_of_the_page_become_trusted(own_page: Page, dist):
    trusted = """async ([module, url]) => {
      const { trustedScript } = await import(module);
      const made = trustedScript(url);
      return [trustedTypes.isScriptURL(made), String(made)];
    }"""
    module = f"{own_page.url.split('#')[0]}{app_folder(dist)}/worker/trusted.js"
    wanted = module.replace("worker/trusted.js", OURS)
    assert own_page.evaluate(trusted, [module, wanted]) == [True, wanted]
    for foreign in (
        "https://elsewhere.invalid/x.js",
        "//elsewhere.invalid/x.js",
        "../x.js",
        "data:text/javascript,1",
        "blob:x.js",
        "x.js?y",
        "x.html",
    ):
        with pytest.raises(Error, match="no script of this page"):
            own_page.evaluate(trusted, [module, foreign])


def test_without_trusted_types_the_address_is_a_text_and_checked_all_the_same():
    script = f"""
      globalThis.document = {{ baseURI: "https://host.invalid/quilt/#cut" }};
      const {{ trustedScript }} = await import({(WEB / "worker" / "trusted.js").as_uri()!r});
      console.log(trustedScript("{OURS}"));
      try {{ trustedScript("https://elsewhere.invalid/x.js"); }} catch (error) {{ console.log(error.name); }}
    """
    done = subprocess.run(
        [tool("node"), "--no-warnings", "--input-type=module", "-e", script], capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == [f"https://host.invalid/quilt/{OURS}", "TypeError"]
