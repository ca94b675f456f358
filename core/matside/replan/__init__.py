"""Planning the rest of a guide anew, when pieces are lost or the cloth at hand is not the one that was told.

- `counts`: counts of pieces by the id of their kind;
- `guided`: what a guide cuts and where it stands, as values;
- `likes`: which pieces are alike but for their fabric, and which cloths may lie in another's place;
- `rest`: for each thing that may have changed, what will be in the piles, what cloth is
  left, and what goes on as it was;
- `search`: the best plan for that rest, and how good the whole is by it.
"""
