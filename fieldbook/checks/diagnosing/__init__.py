"""From the job record to a diagnosis of one zone, and from what was read to what it takes.

`running_zone` maps a zone that runs onto `fieldbook.diagnosis`, `still_zone` one that does not,
with what the wire map says of it. `typed_readings` reads readings as a crew types them, and
`diagnosis_lines` puts the answer in lines that the command prints and the page shows.

The room may import the checks of water and wire, and `fieldbook.diagnosis`. Nothing here runs at an
entry: a diagnosis is worked out when it is asked for. Start at `diagnosis_lines.diagnosis_of`.
"""
