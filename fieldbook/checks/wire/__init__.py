"""Checks of the wire: colours at both ends, cables and splices, tests and meter readings.

`ends.wire_ends` maps the record onto the ends that `fieldbook.wiring` joins; start there.
`wire_colours` flags what does not join, `conductors` the cable itself, `electrics` what ran and
what was metered (`circuits` has the arithmetic's inputs), and `controller_setup` the controller on
the wall. `wire_evidence` gives the reconciled wire map, worked out once per loaded job.

The room may import records, `checks.common` and `checks.finding`, and from `fieldbook.wiring`. It
does not import `checks.water`.
"""
