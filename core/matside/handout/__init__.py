"""What is printed and handed out: the sheet to cut from, the chart of what cloths give, templates, a quilt's drawing.

`cutting_sheet` condenses the guide's script. Of the others, in the order in which a page comes about: `chart` and
`templates` work out what is on it, `paper`, `packing` and `tiles` where it lies, `sheets`, `chart_sheets` and
`quilt_sheet` are the pages as plain data, `texts` says how much room words take, and `svg` writes a page as a drawing.
Such pages are in inches, y down, the paper's top left corner at 0, 0.
"""
