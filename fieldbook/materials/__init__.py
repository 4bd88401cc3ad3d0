"""Materials: what the record says goes into the ground, counted, and what that costs.

Begin at `takeoff`. `pipe_parts` counts pipe, fittings and joints from the tree of runs,
`wire_parts` counts cable and splices, `prices` reads a firm's own price list and makes a quote of a
takeoff. `load_lines` holds the takeoff against what is on the truck, `agreed_changes` has the price
of change orders. The room knows the record and the trade's tables, neither the book nor the screen.
"""
