"""How pieces are set: each setting as a tiling, its edges, and sashing between."""
