"""Watering: a job's zones, weather and rules mapped onto `fieldbook.watering`, and their flags.

`zone_seasons.zone_seasons` gives one `ZoneSeason` a zone: what it needs in each month whose weather
is known, or what is still missing, each thing with its cell; start there. Below it: `weather_rows`
(the months), `zone_rates` (how fast a zone waters, by which figure, whether its heads match) and
`zone_evenness` (how evenly); what was measured wins over what was solved. `water_budget` holds the
year against the ordinance that was chosen. `watering_flags.check_watering` yields the flags.

Everything here is optional on a property: of a zone for which nothing is entered nothing is said.
`controller` holds what is typed at the controller against it. The room may import records,
`checks.common`, `checks.water`, `checks.measured`, `fieldbook.trade` and `fieldbook.watering`.
"""
