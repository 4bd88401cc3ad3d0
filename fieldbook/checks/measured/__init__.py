"""What was measured on the finished system, held against what the record says of it.

`flow_readings` turns a row into a flow with its error; `measured_flow` is the newest one to
believe, for the schedule. `worked_out` solves a zone at the static that was read, with its band;
`compared` holds both against each other, and head pressures likewise. `audits` gives an audit's
figures; `audited_uniformity` is the newest that counts, for the schedule. `check_commissioning` and
`check_audits` are the two checks; neither has a stop, so no sign-off waits for a measurement.

It may import `audit`, `water`, `records` and the shared checks. Start with `compared`.
"""
