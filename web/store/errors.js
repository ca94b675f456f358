// What adding to a log can meet besides a failing store.

/** Another page wrote to the same sitting first; what is stored is right and must be read again. */
export class Overtaken extends Error {}

/** The sitting was removed, here or by another page: nothing can be counted in it any more. */
export class Removed extends Error {}
