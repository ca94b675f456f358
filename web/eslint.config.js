// Few rules: those that find mistakes. How code looks is Prettier's.

import js from "@eslint/js";
import globals from "globals";

export default [
  { ignores: ["node_modules/"] },
  js.configs.recommended,
  {
    languageOptions: { ecmaVersion: 2024, sourceType: "module", globals: globals.browser },
    linterOptions: { reportUnusedDisableDirectives: "error" },
    rules: {
      eqeqeq: "error",
      // It takes `this.#it ??= …` for a place that nothing is read from.
      "no-unused-private-class-members": "off",
      "no-unused-vars": ["error", { argsIgnorePattern: "^_", ignoreRestSiblings: true }],
      "no-var": "error",
      "object-shorthand": "error",
      "prefer-const": ["error", { destructuring: "all" }],
    },
  },
  { files: ["sw.js", "offline/**"], languageOptions: { globals: globals.serviceworker } },
  { files: ["build/node/**"], languageOptions: { globals: globals.node } },
  {
    // It has to run wherever a page can be shown at all, to say what such a browser lacks.
    files: ["start/watch.js", "start/early.js"],
    languageOptions: { ecmaVersion: 2020, sourceType: "script" },
    rules: { "no-var": "off", "object-shorthand": "off", "prefer-const": "off" },
  },
];
