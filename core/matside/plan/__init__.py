"""The best plan for a basket of cloths: least missing, then least opened, then few strips; proved where it can be.

In the order in which a plan comes about:

- `groups`: needs and cloths that have nothing to do with each other are searched apart;
- `ways`: the few places where dividing a cloth can matter, and what strips give in each part;
- `patterns` and `filling`: the best pattern of a cloth at given prices, and all that come near it;
- `greedy`: a first plan;
- `prices` and `simplex`: a linear programme that prices the pieces, and proves by that what cannot be reached;
- `fit`: whether a set of cloths can do: `beam` looks quickly, `descent` through everything within the proved gap;
- `opened` and `opening`: which sets of cloths to try, in the order of their area;
- `anew`: for large baskets, parts of the plan planned anew;
- `tidy` and `layouts`: fewer strips, and where they lie.

`search` is the whole for one group and `planning` for all of them.
"""
