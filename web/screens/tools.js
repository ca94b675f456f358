// Tools: what the user settles once: units, hand, how the strip lies, the mat, looks, and the distance of the phone.

import { h } from "../lib/dom.js";
import { chips } from "../components/chips.js";
import { lengthField } from "../components/length-field.js";

const CHOICES = {
  units: ["in", "cm"],
  hand: ["right", "left"],
  lay: ["along", "away"],
  layers: [1, 2, 3, 4],
  depth: ["long", "short"],
  theme: ["auto", "light", "dark"],
};

export class ToolsScreen {
  constructor(parts) {
    Object.assign(this, parts);
  }

  element() {
    const { words, values } = this.settings;
    const root = h("main", { class: "screen" },
      h("h1", {}, words.say("tools.title")),
      h("section", { class: "card" },
        Object.entries(CHOICES).map(([name, choices]) => this.#choice(name, choices, values[name], words)),
        lengthField({ name: "mat", label: words.say("tools.mat.name"), hint: words.say("tools.mat.hint"), text: values.mat })));
    root.addEventListener("typed", ({ detail }) => (this.settings.values.mat = detail.text));
    root.addEventListener("change", () => this.settings.set({}));
    for (const name of Object.keys(CHOICES)) root.addEventListener(name, ({ detail }) => this.settings.set({ [name]: detail }));
    return root;
  }

  enter() {}

  #choice(name, choices, taken, words) {
    const labels = choices.map((value) => [value, words.say(`tools.${name}.${value}`)]);
    return h("div", { class: "field" }, h("span", { class: "label" }, words.say(`tools.${name}.name`)), chips(words.say(`tools.${name}.name`), labels, taken, name));
  }
}
