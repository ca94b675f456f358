// What can be known, and what is done, before the page's modules are there. An ordinary script in the head.

(function () {
  "use strict";

  var root = document.documentElement;
  var taps = [];
  var held = null; // what a finger is on

  // The first screen stands in the page as it is built. Whoever was here before, or comes to another screen, is to see
  // what is theirs: it stays out of sight until that is there.
  try {
    if (localStorage.getItem("matside-used")) root.setAttribute("data-used", "");
  } catch {
    // It is told nothing, and shows what is built.
  }
  if (location.hash && location.hash !== "#count") root.setAttribute("data-used", "");

  // The language to load: the chosen one, else the first of the device's that there is, else English, in which the first
  // screen is built.
  var there = (root.getAttribute("data-languages") || "en").split(" ");
  var device = firstThere(devices());
  var wanted = firstThere([chosen(), device]);
  window.matsideLanguage = { device: device, wanted: wanted };
  if (wanted !== "en") {
    root.setAttribute("data-used", "");
    askFor("words/" + wanted + ".json");
  }

  // The first use of a language's rules takes long: now, while the page waits for its style, nobody waits for it.
  setTimeout(function () {
    try {
      new Intl.NumberFormat(wanted);
    } catch {
      // Something stands in for it (web/start/stand-ins.js).
    }
  });

  function firstThere(names) {
    for (var i = 0; i < names.length; i += 1) if (there.indexOf(names[i]) >= 0) return names[i];
    return "en";
  }

  function chosen() {
    try {
      return localStorage.getItem("matside-language");
    } catch {
      return null;
    }
  }

  function devices() {
    try {
      return [].concat(navigator.languages || navigator.language || []).map(function (name) {
        return String(name).split(/[-_]/)[0].toLowerCase();
      });
    } catch {
      return [];
    }
  }

  /** A file of the application, as soon as can be: the page's own script asks for it later. */
  function askFor(file) {
    try {
      var link = document.createElement("link");
      link.rel = "preload";
      link.as = "fetch";
      link.crossOrigin = "anonymous";
      link.href = document.currentScript.src.replace(/start\/early\.js.*$/, file);
      document.head.appendChild(link);
    } catch {
      // It comes a little later.
    }
  }

  function pressed(event) {
    var button = event.target.closest && event.target.closest(".built [data-key]");
    var key = button && button.getAttribute("data-key");
    if (event.type === "click" && key) taps.push(key);
    held = event.type === "pointerdown" ? button : null;
  }
  var kinds = ["pointerdown", "pointercancel", "click"];
  kinds.forEach(function (kind) {
    document.addEventListener(kind, pressed, true);
  });

  /** The button of the built screen that a finger is on; null where there is none. */
  window.matsideHeld = function () {
    return held;
  };

  /** Gives what was tapped so far by its key, once; from then on nothing is noted. */
  window.matsideEarly = function () {
    kinds.forEach(function (kind) {
      document.removeEventListener(kind, pressed, true);
    });
    try {
      localStorage.setItem("matside-used", "yes");
    } catch {
      // The next visit begins as this one.
    }
    return taps.splice(0);
  };
})();
