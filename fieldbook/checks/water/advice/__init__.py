"""What would mend a zone, what pipe to lay before the trench, and what its page says of both.

Nothing here runs while a crew types: it solves a zone hundreds of times, when the zone's page, the
command or a key asks. `zone_report.report_of` gives everything for one zone; start there.
`zone_remedies` collects the suggestions that `advice_search` finds, `lateral_sizes` sizes laterals,
`advice_words` puts it all in sentences. `zone_asked` says what the checks ask of a network and
makes changes in a copy of the record, `zone_result` how the zone then stands by all checks.

The room may import everything of `checks.water`; nothing of `checks.water` imports it.
"""
