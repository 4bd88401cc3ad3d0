"""Watering-day rules as an authority writes them: days, hours, seasons, minutes, exemptions.

`day_pattern`, `clock_times` and `season_text` read and write the short texts that rule files and
programmes share: "Wed Sat", "odd not 31", "21:00-09:00", "daylight time". `watering_law` is one
jurisdiction's rule as frozen data; `law_reading` makes it from the [watering] table of a rule file
and from the JSON text that a job keeps of it. `places.toml` has published rules of some places as
dated starters. Start at `watering_law`. The room imports the standard library only; whether a zone
may run is worked out in `fieldbook.watering`. Nothing here is law: the authority decides.
"""
