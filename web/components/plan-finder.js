// The ways by which a plan comes in: a code before the camera, a picture of one, a file, or text that was copied.

import { emit, h, refill } from "../lib/page/dom.js";

/**
 * Shows how it stands: {camera: "off"|"asking"|"on"|"refused"|"none", progress, refused, busy}. `video` shows what the
 * camera sees. Emits `camera` {on}, `picture` {file}, `file` {file}, `pasted` {text}.
 */
export class PlanFinder extends HTMLElement {
  constructor() {
    super();
    this.video = h("video", { playsinline: true, muted: true, "aria-hidden": "true" });
    this.video.muted = true; // the attribute alone does not do it for an element that is made here
    this.pasted = h("textarea", { id: "pasted", class: "entry", rows: 3, spellcheck: "false", autocomplete: "off" });
    [this.picture, this.file] = ["picture", "file"].map((name) => chooser(name, this));
  }

  show({ camera, progress, refused, busy, words }) {
    const say = (code, values) => words.say(`passing.${code}`, values);
    const error = refused && h("p", { class: "error", role: "alert", id: "finder-error" }, this.#why(refused, words));
    for (const field of [this.picture, this.file, this.pasted]) {
      field.setAttribute("aria-invalid", String(refused?.from === field.id));
      field.toggleAttribute("aria-describedby", refused?.from === field.id);
      if (refused?.from === field.id) field.setAttribute("aria-describedby", "finder-error");
    }
    const at = (field) => refused?.from === field.id && error;
    refill(
      this,
      this.#camera(camera, progress, say),
      refused?.from === "camera" && error,
      h("div", { class: "field" }, h("label", { for: "picture" }, say("picture")), this.picture, at(this.picture)),
      h("div", { class: "field" }, h("label", { for: "file" }, say("file")), this.file, at(this.file)),
      h(
        "div",
        { class: "field" },
        h("label", { for: "pasted" }, say("paste")),
        this.pasted,
        at(this.pasted),
        this.#button("take-pasted", say("take_pasted"), () => emit(this, "pasted", { text: this.pasted.value })),
      ),
      h("p", { role: "status" }, busy && say("reading")),
    );
  }

  #camera(state, progress, say) {
    if (state === "none") return h("p", { class: "soft" }, say("no_camera"));
    if (state === "on" || state === "asking")
      return h(
        "div",
        { class: "finder-camera" },
        this.video,
        h("p", { role: "status" }, progress ? say("progress", { share: progress }) : say("aim")),
        this.#button("camera-off", say("camera_off"), () => emit(this, "camera", { on: false })),
      );
    return [
      state === "refused" && h("p", { class: "error", role: "alert" }, say("camera_refused")),
      this.#button("camera", say("camera"), () => emit(this, "camera", { on: true }), "button main"),
    ];
  }

  #button(key, text, onclick, look = "button") {
    return h("button", { type: "button", class: look, "data-key": key, onclick }, text);
  }

  #why({ code, values = {}, why }, words) {
    if (code === "unkept") return words.say(`copies.refused.unkept.${why ?? values.why}`);
    return words.say(
      words.has(`passing.refused.${code}`) ? `passing.refused.${code}` : `copies.refused.${code}`,
      values,
    );
  }
}

/** A field for a file, always the same one: while its dialog is open the screen may be shown anew. */
function chooser(name, element) {
  const accept = { picture: "image/*", file: ".json,application/json" }[name];
  const input = h("input", { id: name, class: "entry", type: "file", accept, "data-key": name });
  input.addEventListener("change", () => {
    const [file] = input.files;
    if (file) emit(element, name, { file });
    input.value = ""; // the same file can be chosen once more
  });
  return input;
}

customElements.define("plan-finder", PlanFinder);
