// The screens that have a tab, in their order.

export const TABS = ["count", "quilt", "basket", "cut", "tools"];
