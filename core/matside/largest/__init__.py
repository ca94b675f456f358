"""The largest quilt that a basket gives: its sizes in order, each held against the basket by the plan,
and what the next one lacks.

- `family`: the sizes that a quilt can have in the proportion at hand, each with one column or one
  row more than the one before;
- `trial`: one size held against the basket: whether the plan gives all of it, proves that
  none can, or does not know yet;
- `search`: which size is the largest that is sure;
- `unmet`: why a kind of piece cannot be had;
- `purchase`: the smallest extra cloth of one fabric that makes a size possible.
"""
