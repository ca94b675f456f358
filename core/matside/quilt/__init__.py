"""The whole quilt: how the pieces are set, how its edges end, and everything that goes round it.

Quilt coordinates, in inches: x to the right and y down from the top left corner of the finished quilt.
Every outline runs so that its signed area is above 0.
"""
