"""Winter and spring: the air for a zone's pipe and its limit, and what a visit did and lacks.

`blow_out` reads volumes, limits and the order of the zones from the pipe in the record;
`season_rows` finds the rows of a visit; `season_check` flags what can hurt somebody or break pipe;
`season_dates` has the days on which closing, opening, upkeep and the next visit are due. The room
imports the checks of street, ground and water, and `fieldbook.season`.
"""
