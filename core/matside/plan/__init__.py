"""The best plan for a basket of cloths: least missing, then least opened, then fewest strips; proved where it can be.

In the order in which a plan comes about:

- `groups`: needs and cloths that have nothing to do with each other are searched apart; `unmet`
  says why nothing gives a kind;
- `ways`: the few places where dividing a cloth can matter, and what strips give in each part;
- `patterns` and `filling`: the best pattern of a cloth at given prices, and all that come near it;
- `greedy`: a first plan; `lifted`: one with strips along one side only, as a start for one without that restriction;
- `simplex`, `programme` and `prices`: a linear programme that prices the pieces, and proves by
  that what cannot be reached;
- `alike`, for many like cloths: the whole basket as one programme, rounded to whole cloths (`rounding`)
  and then branched on (`branching`), whose branches end where their prices prove in whole numbers that
  nothing better lies in them;
- `fit`, for few cloths: whether a set of cloths can do; `beam` looks quickly, `descent` through
  everything within the proved gap;
- `opened` and `opening`: which sets of cloths to try, in the order of their area;
- `anew`: for large baskets, parts of the plan planned anew;
- `fewest`, `cases` and `strip_programme`: the fewest strips, then the fewest divisions, of all plans as
  good; `tidy` finds few soon;
- `layouts` and `layers`: where the strips lie, and what several cloths have in common.

`search` is the whole for one group and `planning` for all of them; `proof` writes down what it rests on
that no plan does better."""
