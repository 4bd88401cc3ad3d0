"""What is measured on a finished system, and how far each figure may be off.

The room is pure and needs the standard library only; it may import `trade` and `units`, and knows
no record. `meter_timing` is the flow by the dial of a meter, `gauges` the error of a pressure
gauge, `agreement` holds a measured figure against one that was worked out. `catch_cans` turns what
cans caught into depths and a rate, `uniformity` says how evenly they filled, `quarters` how many
cans make a quarter, and `audit_faults` why an audit does not count.

Start at `uniformity` for an audit, at `agreement` for commissioning. `checks/service` maps the
rows of a job onto these.
"""

from fieldbook.audit.agreement import Agreement, AgreementWord, Figure, agreement
from fieldbook.audit.audit_faults import (
    AuditFault,
    FaultName,
    audit_faults,
)
from fieldbook.audit.catch_cans import depth_in, rate_in_h, read_error_part
from fieldbook.audit.gauges import GRADES, gauge_error_psi, psi_at_head
from fieldbook.audit.meter_timing import DIALS, GALLONS_PER_FT3, gallons, timed_gpm
from fieldbook.audit.quarters import QUARTER_RULES, part_of
from fieldbook.audit.uniformity import Evenness, evenness, percent

__all__ = [
    "DIALS",
    "GALLONS_PER_FT3",
    "GRADES",
    "QUARTER_RULES",
    "Agreement",
    "AgreementWord",
    "AuditFault",
    "Evenness",
    "FaultName",
    "Figure",
    "agreement",
    "audit_faults",
    "depth_in",
    "evenness",
    "gallons",
    "gauge_error_psi",
    "part_of",
    "percent",
    "psi_at_head",
    "rate_in_h",
    "read_error_part",
    "timed_gpm",
]
