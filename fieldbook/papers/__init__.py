"""Papers: what is read off a job, as lines of text for a terminal and as SVG for print.

Of the wire, `wire_map` says where each terminal leads and every doubt about it; `wire_pictures`
draws the controller's strip and the valve boxes with `picture` (lines of characters), `cable_tree`
what lies between, in the signs of `wire_signs`; `wire_sheet` puts them on one sheet. The folder
`site_plan` has the as-built plan to scale, for a terminal and as a sheet for an owner, and
`zone_water` a zone's water: two curves, a waterfall and a tree. These draw on a `canvas`, which is
braille (`dots`), blocks and lines in a terminal, and shapes in `svg`: start there.

`paper` is what a printed paper is made of, `contents` has a function for each, made of
`blocks`, and `printing` draws it as HTML or PDF. `exports` are open formats for other programs.

A paper is a pure function of a loaded job. The room may import checks and everything below them,
and `rich` for the width of characters; it knows neither the book nor the screen.
"""
