"""What is done at the controller's programmes: add one, work all of them out.

`adding_programmes` adds one with the next letter and its usual days. `working_out` replaces the
programmes of the controllers by those that the zones' needs and the local rule give, as one act.
`place_rules` holds the job to a published rule; `programme_files` writes the season.
"""
