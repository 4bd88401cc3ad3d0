"""Which kinds of backflow assembly the hazards allow, each hazard asked one by one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fieldbook.checks.common.job_rules import rule_source, rule_value
from fieldbook.checks.common.naming import assembly_name
from fieldbook.checks.common.water_source import supply_cell
from fieldbook.checks.finding import CellRef, Finding, Missing
from fieldbook.checks.looked import Looked
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.supply import PUMP_SIDES
from fieldbook.trade.rules.keys import HAZARDS

_ASKED: Mapping[str, str] = {
    "chemicals": "whether chemicals are injected",
    "septic": "whether there is a septic field",
    "second_source": "whether there is a second water source",
    "pump": "whether there is a pump",
}


def hazards_missing(job: LoadedJob) -> list[Missing]:
    """The hazards that nobody has answered yet."""
    found = [
        Missing(words, supply_cell(job, column))
        for column, words in _ASKED.items()
        if job.supply is None or getattr(job.supply, column) is None
    ]
    if job.supply is not None and job.supply.pump is True and job.supply.pump_side is None:
        words = "on which side of the assembly the pump stands"
        found.append(Missing(words, supply_cell(job, "pump_side")))
    return found


def hazards_of(job: LoadedJob) -> list[str]:
    """The hazards that are there, as keys of the rules; a pump of unknown side is the stricter.

    A pump before the assembly is no hazard behind it: the kinds for no hazard must serve as well.
    """
    supply = job.supply
    found = [name for name in _ASKED if supply is not None and getattr(supply, name) is True]
    if "pump" in found and supply is not None and supply.pump_side == PUMP_SIDES[0]:
        found.remove("pump")
        return [*(found or ["no_hazard"]), "pump_before"]
    return found or ["no_hazard"]


def check_hazards(job: LoadedJob) -> Iterator[Finding | Looked]:
    """Each assembly: whether its kind is allowed with the hazards that are there."""
    for assembly in job.backflow_assemblies:
        missing = hazards_missing(job)
        if assembly.kind is None:
            at = CellRef("backflow_assembly", assembly.id, "kind")
            missing.append(Missing("the kind of the backflow assembly", at))
        name = f"kind of the {assembly_name(assembly)}"
        yield Looked(name, frozenset({assembly.id}), tuple(missing))
        if assembly.kind is not None:
            yield from _not_allowed(job, assembly, assembly.kind)


def _not_allowed(job: LoadedJob, assembly: BackflowAssembly, kind: str) -> Iterator[Finding]:
    """A flag for each hazard that the kind does not serve."""
    for name in hazards_of(job):
        kinds = rule_value(job, f"allowed.{name}")
        if isinstance(kinds, tuple) and kind not in kinds:
            yield Finding(
                "backflow not allowed",
                "stop",
                f"The {assembly_name(assembly)} is not allowed with {HAZARDS[name]}: "
                f"{' or '.join(kinds) or 'none'} or an air gap.",
                "Fit a kind that is allowed, or look up the local rule and choose its set at the "
                "desk.",
                CellRef("backflow_assembly", assembly.id, "kind"),
                source=rule_source(job, f"allowed.{name}"),
            )
