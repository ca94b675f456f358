// The trade's words with their meanings and pictures. Nothing needs them to start: they are fetched when one is asked for.

export class Glossary {
  #load;
  #words;
  #coming = null;

  /** @param load gives {terms, pictures}, both by code; the terms become a part of the catalogue of `words` */
  constructor(words, load) {
    this.#words = words;
    this.#load = load;
  }

  /** Resolves to {terms, pictures}; after a failure it is tried once more when it is asked for again. */
  ready() {
    this.#coming ??= this.#load().then(
      (found) => {
        this.#words.catalogue.terms = found.terms;
        return found;
      },
      (error) => {
        this.#coming = null;
        throw error;
      },
    );
    return this.#coming;
  }
}
