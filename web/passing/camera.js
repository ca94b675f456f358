// The phone's camera as a reader of codes, for as long as it is wanted.

import { readFrame } from "./reader.js";

const PAUSE = 30; // ms between two looks, so that the page goes on

export class Camera {
  #stream = null;
  #canvas = document.createElement("canvas");

  /** @param {{video: HTMLVideoElement, said: (text: string) => boolean}} parts `said` ends it by true */
  constructor({ video, said }) {
    Object.assign(this, { video, said });
  }

  /** Asks for the camera on the back, and reads until it is stopped. Rejects where the camera is not given. */
  async start() {
    const wanted = { facingMode: "environment", width: { ideal: 1920 }, height: { ideal: 1080 } };
    const stream = await navigator.mediaDevices.getUserMedia({ video: wanted, audio: false });
    this.#stream = stream;
    this.video.srcObject = stream;
    await this.video.play();
    this.#look(stream);
  }

  stop() {
    this.#stream?.getTracks().forEach((track) => track.stop());
    this.#stream = this.video.srcObject = null;
  }

  async #look(stream) {
    while (this.#stream === stream) {
      const read = await readFrame(this.video, this.#canvas).catch(() => []);
      if (this.#stream !== stream) return;
      if (read.some((text) => this.said(text))) return this.stop();
      await new Promise((resolve) => setTimeout(resolve, PAUSE));
    }
  }
}
