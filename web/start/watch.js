// Watches for a start that does not come. An ordinary script that needs no other file, so that it works where those are
// missing: what it says stands in index.html, hidden. The page's own screens use its report and its repair.

(function () {
  "use strict";

  var SLOW = 12000; // ms after which a start that is still going on is said to take long
  var NETWORK = 20000; // ms that the network may take to answer
  var root = document.documentElement;
  var script = document.currentScript;
  var app = script ? script.src.replace(/start\/watch\.js.*$/, "") : "";
  var failed = []; // what went wrong, for a report
  var told = null;

  addEventListener("error", noted, true);
  addEventListener("unhandledrejection", function (event) {
    note(event.reason);
  });
  setTimeout(function () {
    if (!isShown()) show("slow");
  }, SLOW);
  // The page loads the same module itself: this only hears of what became of it, whichever came first.
  import("../main.js").then(function () {
    if (!isShown()) broke(new Error("nothing was started"));
  }, broke);

  function isShown() {
    return root.getAttribute("data-start") === "shown";
  }

  function noted(event) {
    var from = event.target;
    if (from && from !== window && (from.src || from.href)) note("did not load: " + (from.src || from.href));
    else note(event.error || event.message);
  }

  function note(what) {
    var text = String((what && what.message) || what).slice(0, 500);
    if (failed.length < 20 && failed.indexOf(text) < 0) failed.push(text);
  }

  function broke(error) {
    note(error);
    if (error && error.stage) told = error.stage;
    if (!isShown())
      whenRead(function () {
        show("broken");
      });
  }

  function whenRead(act) {
    if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", act);
    else act();
  }

  // What is broken, below the line that says what this is, or in the place of a page that has begun to be filled.
  function show(how) {
    var part = document.getElementById("start-broken");
    if (!part) return;
    var page = document.getElementById("page");
    if (how === "slow") document.body.insertBefore(part, page);
    else page.hidden = true;
    inOwnWords(part);
    var what = document.getElementById("start-what");
    what.textContent = what.getAttribute("data-" + how);
    document.getElementById("start-report").textContent = report();
    part.hidden = false;
    listen();
  }

  // What stands there is English; where the page has the words of the wanted language, they take its place.
  function inOwnWords(part) {
    try {
      var wanted = window.matsideLanguage.wanted;
      var words = JSON.parse(document.getElementById("start-words").content.textContent)[wanted];
      if (!words || part.lang === wanted) return;
      part.lang = wanted;
      part.querySelectorAll("[data-say]").forEach(function (each) {
        each.textContent = words[each.getAttribute("data-say")];
      });
      said(document.getElementById("start-what"), "start.", words);
      said(document.getElementById("start-repairing"), "repair.told.", words);
    } catch {
      // It is said in English.
    }
  }

  // What one place may say, each in an attribute.
  function said(place, subject, words) {
    Object.keys(words).forEach(function (name) {
      var code = name.slice(subject.length);
      if (name.indexOf(subject) === 0) place.setAttribute("data-" + code, words[name]);
    });
  }

  function listen() {
    var button = document.getElementById("start-repair");
    if (button.getAttribute("data-ready")) return;
    button.setAttribute("data-ready", "yes");
    button.addEventListener("click", function () {
      var line = document.getElementById("start-repairing");
      button.disabled = true;
      repair(function (code) {
        line.textContent = line.getAttribute("data-" + code);
        button.disabled = code === "asking" || code === "loading";
      });
    });
  }

  // The text for a report: which version, how far the start came, what went wrong, and in which browser.
  function report(more) {
    var version = /app-([0-9a-f]+)/.exec(app);
    return [
      "Matside " + (version ? version[1] : "?"),
      "at: " + (told || root.getAttribute("data-start") || "files"),
      (more ? [String(more)] : []).concat(failed).join("\n") || "nothing was reported",
      navigator.userAgent,
      [navigator.language, navigator.onLine ? "online" : "offline", window.isSecureContext ? "https" : "http"].join(
        ", ",
      ),
      location.href.split("#")[0],
    ].join("\n");
  }

  // Asks the network for every file of the page, and only when all are there drops what was kept of them and loads
  // them anew; `say` hears of "asking", "offline", "lacking" and "loading". The database, the private files and
  // Web Storage are not touched.
  function repair(say) {
    var page = new URL("./", document.baseURI).href;
    var mark = "?repair=" + Date.now(); // an address with a question is answered by the network alone
    say("asking");
    return text(page + "index.html" + mark, "offline")
      .then(function (html) {
        if (html.indexOf('name="matside-python"') < 0) throw "offline"; // something else answered for the host
        var files = (html.match(/(?:href|src)="app-[^"]+"/g) || []).map(function (found) {
          return page + found.split('"')[1];
        });
        return Promise.all(
          files.map(function (file) {
            return text(file + mark, "lacking");
          }),
        ).then(function () {
          return files;
        });
      })
      .then(function (files) {
        say("loading");
        return (
          Promise.all([inTime(withoutCaches(page)), inTime(withoutWorker(page))])
            // What the browser itself holds of them may be what is damaged.
            .then(function () {
              return Promise.all(
                files.map(function (file) {
                  return inTime(fetch(file, { cache: "reload" }));
                }),
              );
            })
        );
      })
      .then(
        function () {
          location.replace(page);
        },
        function (why) {
          say(typeof why === "string" ? why : "lacking");
        },
      );
  }

  function text(url, otherwise) {
    var late = new Promise(function (_, reject) {
      setTimeout(reject, NETWORK, otherwise);
    });
    var come = fetch(url, { cache: "no-store" }).then(function (answer) {
      if (!answer.ok) throw otherwise;
      return answer.text();
    });
    return Promise.race([late, come]).catch(function () {
      throw otherwise;
    });
  }

  function withoutCaches(page) {
    return attempt(function () {
      return caches.keys();
    }).then(function (names) {
      return Promise.all(
        names
          .filter(function (name) {
            return name.indexOf("matside") === 0 && name.slice(-page.length) === page;
          })
          .map(function (name) {
            return caches.delete(name);
          }),
      );
    });
  }

  function withoutWorker(page) {
    return attempt(function () {
      return navigator.serviceWorker.getRegistration(page);
    }).then(function (found) {
      return found && found.unregister();
    });
  }

  function attempt(act) {
    return new Promise(function (resolve) {
      resolve(act());
    });
  }

  // What cannot be done is left: nothing here may keep the page from being loaded anew.
  function inTime(promise) {
    var late = new Promise(function (resolve) {
      setTimeout(resolve, NETWORK / 4);
    });
    return Promise.race([late, promise]).catch(function () {});
  }

  window.matside = { report: report, repair: repair };
})();
