"""Plane geometry for the quilt: outlines, their seam allowance, and what is cut for them."""
