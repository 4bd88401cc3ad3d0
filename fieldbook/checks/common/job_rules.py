"""The rules that a job is held to: entered at the desk, else from its rule set, else generic.

The authority having jurisdiction decides; every flag says which of them it used.
"""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE, Rule
from fieldbook.trade.rules.editions import LocalRule, generic
from fieldbook.trade.rules.keys import RULE_KEYS, RuleValue, from_text, height_key

_ENTERED = "The local rule entered at the desk."


@once_per_job
def rules_of(job: LoadedJob) -> Mapping[str, LocalRule]:
    """Every rule of a job by its key: those of its rule set, else the generic ones."""
    held = dict(generic().rules)
    for row in job.rules:
        value = from_text(row.key, row.value)
        if value is not None:
            held[row.key] = LocalRule(row.key, value, row.source, row.set_name)
    return held


def rule_value(job: LoadedJob, key: str) -> RuleValue:
    """The value of a rule."""
    return rules_of(job)[key].value


def rule_source(job: LoadedJob, key: str) -> str:
    """The source of a rule, after the name of its rule set unless that is the generic one."""
    rule = rules_of(job)[key]
    source = rule.source or COMMON_PRACTICE
    return source if rule.set_name == generic().name else f"{rule.set_name}: {source}"


def figure(job: LoadedJob, key: str) -> Rule:
    """A rule that is a number, with its unit and source."""
    value = rule_value(job, key)
    assert isinstance(value, int | float)
    return Rule(float(value), RULE_KEYS[key].unit, rule_source(job, key))


def required(job: LoadedJob, key: str) -> bool:
    """Whether a rule that is yes or no says yes."""
    return rule_value(job, key) is True


def static_maximum(job: LoadedJob) -> Rule:
    """The static pressure in psi above which the connection is to be regulated."""
    return figure(job, "static_psi")


def velocity_maximum(job: LoadedJob, pipe_class: str | None) -> Rule:
    """The velocity in ft/s above which pipe of a class is too small; plastic for None."""
    copper = pipe_class is not None and pipe_class.startswith("copper")
    return figure(job, "velocity_ft_s.copper" if copper else "velocity_ft_s")


def cover_minimum(job: LoadedJob, *, mainline: bool) -> Rule:
    """Least cover in inches over the mainline, or over laterals."""
    entered = amount(job.local_rules, "mainline_cover_in" if mainline else "lateral_cover_in")
    if entered is None:
        return figure(job, "cover_in.mainline" if mainline else "cover_in.lateral")
    assert job.local_rules is not None
    return Rule(entered, "in", job.local_rules.cover_code.strip() or _ENTERED)


def backflow_height(job: LoadedJob, kind: str | None) -> Rule | None:
    """Least height in inches of the critical level over the highest sprinkler.

    None for a kind that has no such height (DC, RP), or while the kind is not known.
    """
    if kind is None or height_key(kind) not in RULE_KEYS:
        return None
    entered = amount(job.local_rules, "backflow_height_in")
    if entered is None:
        return figure(job, height_key(kind))
    assert job.local_rules is not None
    return Rule(entered, "in", job.local_rules.backflow_code.strip() or _ENTERED)


def assembly_clearance(job: LoadedJob, kind: str | None) -> Rule | None:
    """Least clearance in inches of the assembly over the soil; None for a kind without one."""
    return figure(job, "backflow_above_grade_in.RP") if kind == "RP" else None


def rain_shutoff(job: LoadedJob) -> str | None:
    """The source of the rule that asks for a rain shut-off; None where none is required."""
    entered = job.local_rules.rain_sensor_required if job.local_rules is not None else None
    if entered is not None:
        assert job.local_rules is not None
        return (job.local_rules.rain_sensor_code.strip() or _ENTERED) if entered else None
    key = "rain_shutoff_required"
    return rule_source(job, key) if required(job, key) else None
