"""The size that wastes least: how many pieces cloths give for every size of a piece, exactly,
and which sizes are good ones.

- `varied`: a piece with its strip width left open;
- `cliffs`: the sizes at which one cloth can give fewer pieces, worked out from its cuts;
- `curve`: how many pieces all cloths give together from one cliff to the next;
- `good`: the sizes just below a cliff that use more of the cloth than their neighbors, and
  what of them a ruler can lay.
"""
