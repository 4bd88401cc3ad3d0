"""Hold a job to the published watering rule of a place, beside its rule set."""

from __future__ import annotations

from fieldbook.actions.open_job import OpenJob
from fieldbook.records.base import natural_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.changes import Change, Put, Remove
from fieldbook.trade.rules.keys import WATERING, to_text
from fieldbook.trade.watering.law_reading import law_from_text
from fieldbook.trade.watering.place_laws import places

FROM_RULE_SET = "that of the rule set"


def rule_choices() -> list[str]:
    """What may be chosen: the rule set's own, then the places by name."""
    return [FROM_RULE_SET, *sorted(places())]


def chosen_rule(job: LoadedJob) -> str:
    """The place whose rule the job is held to, or that its rule set decides."""
    name = next((row.set_name for row in job.rules if row.key == WATERING), "")
    return name if name in places() else FROM_RULE_SET


def choose_place(open_job: OpenJob, name: str) -> None:
    """Copy the rule of a place into the job, as one act; FROM_RULE_SET takes it out again."""
    job = open_job.job
    row_id = natural_id(job.job.id, "rule", WATERING)
    changes: list[Change] = []
    if name in places():
        text = places()[name]
        columns = {
            "value": to_text(text),
            "source": law_from_text(text).source,
            "set_name": name,
        }
        for column, value in columns.items():
            changes.append(Put("rule", row_id, column, value, {"key": WATERING}))
    elif chosen_rule(job) != FROM_RULE_SET:
        changes.append(Remove("rule", row_id))
    open_job.commit(changes, f"watering rule: {name}")
