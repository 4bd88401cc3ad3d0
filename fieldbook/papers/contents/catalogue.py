"""The papers by name: what each is called, and the function that makes it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.contents.audit_report import audit_report
from fieldbook.papers.contents.backflow_record import backflow_record
from fieldbook.papers.contents.box_tags import box_tags
from fieldbook.papers.contents.commissioning_record import commissioning_record
from fieldbook.papers.contents.door_card import door_card
from fieldbook.papers.contents.handover_packet import handover_packet
from fieldbook.papers.contents.inspector_sheet import inspector_sheet
from fieldbook.papers.contents.load_list import load_list
from fieldbook.papers.contents.materials_list import materials_list
from fieldbook.papers.contents.property_page import property_page
from fieldbook.papers.contents.season_guide import season_guide
from fieldbook.papers.contents.trench_map import trench_map
from fieldbook.papers.contents.visit_report import visit_reports
from fieldbook.papers.contents.water_summary import water_summary
from fieldbook.papers.contents.work_log import work_log
from fieldbook.papers.paper import Paper

PAPERS: Mapping[str, Callable[[PaperSource], Paper]] = {
    "handover-packet": handover_packet,
    "property": property_page,
    "trench-map": trench_map,
    "door-card": door_card,
    "box-tags": box_tags,
    "water-summary": water_summary,
    "backflow-record": backflow_record,
    "commissioning-record": commissioning_record,
    "audit-report": audit_report,
    "work-log": work_log,
    "inspector-sheet": inspector_sheet,
    "season-guide": season_guide,
    "materials": materials_list,
    "load-list": load_list,
}
"""By the name of the paper, which is also its file name."""
SEVERAL: Mapping[str, Callable[[PaperSource], Sequence[Paper]]] = {"visit-report": visit_reports}
"""Papers of which there is one a thing, such as a visit, or none; each has a name of its own."""
NAMES = (*PAPERS, *SEVERAL)
"""What can be asked for by name."""


def papers_named(source: PaperSource, name: str) -> Sequence[Paper]:
    """The papers of a name: one, or one of each thing."""
    return SEVERAL[name](source) if name in SEVERAL else (PAPERS[name](source),)
