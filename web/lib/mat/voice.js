// What the guide lets one hear: sentences by the device's own voice, and ticks. Silent where there is neither.

import { forSpeech } from "../words/measure.js";

const TICKS = {
  cut: [[880, 0, 0.06]],
  strip: [
    [660, 0, 0.09],
    [990, 0.12, 0.14],
  ],
  refused: [[220, 0, 0.12]],
};

export class Voice {
  #audio = null;
  #last = "";

  /** @param {() => {volume: number, language: string}} settings */
  constructor(settings) {
    this.settings = settings;
  }

  /** Must be called inside a tap once: some devices let a page speak and sound only after that. */
  prime() {
    if (this.#audio) return;
    quietly(() => {
      const Audio = window.AudioContext ?? window.webkitAudioContext;
      this.#audio = Audio ? new Audio() : null;
    });
    quietly(() => window.speechSynthesis?.speak(new SpeechSynthesisUtterance("")));
  }

  /** Says a text instead of whatever is being said. */
  say(text) {
    this.#last = text;
    if (text) quietly(() => window.speechSynthesis && this.#speak(text));
  }

  #speak(text) {
    const utterance = new SpeechSynthesisUtterance(forSpeech(text));
    const { volume, language } = this.settings();
    Object.assign(utterance, { volume, lang: language.split("-u-")[0], voice: offlineVoice(language) });
    speechSynthesis.cancel();
    speechSynthesis.speak(utterance);
  }

  /** Says the last text once more. */
  repeat() {
    this.say(this.#last);
  }

  /** What `repeat` would say, without saying it now. */
  remember(text) {
    this.#last = text;
  }

  /** A short sound: "cut", "strip" (the strip is done) or "refused". */
  tick(kind) {
    if (!this.#audio) return;
    quietly(() => {
      this.#audio.resume?.();
      for (const [pitch, after, length] of TICKS[kind]) this.#tone(pitch, this.#audio.currentTime + after, length);
    });
  }

  hush() {
    quietly(() => window.speechSynthesis?.cancel());
  }

  #tone(pitch, start, length) {
    const [tone, gain] = [this.#audio.createOscillator(), this.#audio.createGain()];
    tone.frequency.value = pitch;
    gain.gain.setValueAtTime(this.settings().volume * 0.4, start);
    gain.gain.exponentialRampToValueAtTime(0.001, start + length);
    tone.connect(gain).connect(this.#audio.destination);
    tone.start(start);
    tone.stop(start + length);
  }
}

/** What only adds to what is seen may fail: a device that refuses to sound must not keep a cut from counting. */
function quietly(sound) {
  try {
    sound();
  } catch {
    // Silent, then.
  }
}

/**
 * A voice of the language that works without a network, if the device has one; null leaves the choice to the device.
 */
function offlineVoice(language) {
  const voices = speechSynthesis.getVoices().filter(({ lang }) => lang.slice(0, 2) === language.slice(0, 2));
  return voices.find(({ localService }) => localService) ?? null;
}
