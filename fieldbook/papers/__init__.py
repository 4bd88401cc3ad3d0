"""Papers: what is read off a job, as lines of text for a terminal and as SVG for print.

`wire_map` says where each terminal leads and every doubt about it, `wire_pictures` draws the valve
boxes and the controller's strip with `picture` (a grid of characters that is also SVG), and `plan`
is the as-built plan to scale.

`paper` is what a printed paper is made of, and `printing` draws it as HTML or PDF.

A paper is a pure function of a loaded job. The room may import checks and everything below them,
and `rich` for the width of characters; it knows neither the book nor the screen.
"""
