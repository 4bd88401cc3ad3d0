"""The local rules that the checks applied, with their values and sources."""

from __future__ import annotations

from fieldbook.checks.common.job_rules import rule_source, rules_of
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.paper import Table
from fieldbook.trade.rules.keys import RULE_KEYS, WATERING, RuleValue, value_in_words


def rules_table(source: PaperSource) -> Table:
    """Every rule of the job by its name."""
    say = source.say
    rows = tuple(
        (
            say(RULE_KEYS[key].label),
            _value(source, key, rule.value),
            rule_source(source.job, key),
        )
        for key, rule in rules_of(source.job).items()
    )
    return Table((say("Rule"), say("Value"), say("Source")), rows)


def _value(source: PaperSource, key: str, value: RuleValue) -> str:
    if isinstance(value, bool):
        return source.say("yes" if value else "no")
    if isinstance(value, tuple):
        return ", ".join(map(str, value))
    if isinstance(value, int | float):
        return f"{value:g} {RULE_KEYS[key].unit}".strip()
    # The whole watering rule is kept as JSON, which nobody reads on paper.
    return value_in_words(key, value) if key == WATERING else str(value)
