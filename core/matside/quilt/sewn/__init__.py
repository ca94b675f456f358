"""What goes with the pieces when they are sewn: rows, tips, grain, seams that are set in, and the seam itself."""
