"""What is typed at the controller against what the rules permit, the supply carries, zones need.

`job_permits` holds a job's watering law against its site and each zone. `job_programmes` turns the
rows of the programmes into `fieldbook.watering.programmes`, with the terminals of the wire map, and
plays their season. `programme_flags.check_programmes` yields the answers and flags. It may import
what `checks.watering` may, and `checks.wire`. Start at `job_programmes`.
"""
