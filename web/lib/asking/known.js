// Answers that were given before: the core says the same to the same request, whatever happens meanwhile.

const MOST = 40; // answers with drawings, some kilobytes each

export class Known {
  #answers = new Map(); // request as a text → answer, the newest last

  /** The answer to a request, or undefined. */
  get(request) {
    return this.#answers.get(JSON.stringify(request));
  }

  /** Takes in an answer; a refusal of Python itself is none. */
  take(request, answer) {
    if (!answer?.ok) return;
    const name = JSON.stringify(request);
    this.#answers.delete(name);
    this.#answers.set(name, answer);
    if (this.#answers.size > MOST) this.#answers.delete(this.#answers.keys().next().value);
  }
}
