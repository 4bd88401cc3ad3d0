"""How flags name things and quantities, so that every flag names them in the same way."""

from __future__ import annotations

from collections.abc import Sequence

from fieldbook.records.base import Record
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.controller import OtherController, Terminal
from fieldbook.records.tables.load_items import LoadItem
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.two_wire import Decoder, TwoWirePath
from fieldbook.records.tables.wires import Cable, Conductor, Valve, ValveBox
from fieldbook.records.tables.zones import Head, Zone
from fieldbook.units import Measure, System, show

_LONGEST_NAME, _SHORT_NAME = 30, 12
_MOST_NAMED = 6
LONGEST_SENTENCE = 200
"""Most characters of a sentence that a crew reads."""


def system_of(job: LoadedJob) -> System:
    """The units the job is shown in."""
    return "metric" if job.job.units == "metric" else "us"


def quantity(job: LoadedJob, value: float, measure: Measure) -> str:
    """A quantity in our unit of `measure`, written in the job's units."""
    return show(value, measure, system_of(job))


def speed(job: LoadedJob, ft_s: float) -> str:
    """A velocity in ft/s, written in the job's units (0.3048 m in a foot)."""
    if system_of(job) == "metric":
        return f"{ft_s * 0.3048:.2f} m/s"
    return f"{ft_s:.1f} ft/s"


def short(name: str, most: int = _LONGEST_NAME) -> str:
    """A typed name on one line, cut to `most` characters so that a sentence stays readable."""
    name = " ".join(name.split())
    return name if len(name) <= most else name[: most - 3].rstrip() + "..."


def named(numbered: str, name: str) -> str:
    """A numbered thing, followed by its name in brackets if it has one."""
    return f"{numbered} ({short(name)})" if name.strip() else numbered


def zone_name(zone: Zone | None) -> str:
    """Such as "zone 3 (front lawn)"."""
    if zone is None:
        return "a zone that is not in the record"
    return named(
        "zone without a number" if zone.number is None else f"zone {zone.number}", zone.name
    )


def stretch_name(job: LoadedJob, zone_id: str | None) -> str:
    """Such as "the mainline" (None) or "zone 3 (front lawn)"."""
    return "the mainline" if zone_id is None else zone_name(job.zone(zone_id))


def zone_word(zone: Zone | None) -> str:
    """Such as "zone 3": without the name, for a second mention in a sentence."""
    return f"zone {zone.number}" if zone is not None and zone.number is not None else "that zone"


def cable_name(cable: Cable | None) -> str:
    """Such as "cable 1"."""
    return f"cable {short(cable.name)}".rstrip() if cable is not None else "the cable"


def box_name(box: ValveBox) -> str:
    """Such as "valve box A (left of the drive)"."""
    return named(box_word(box), box.location)


def box_word(box: ValveBox) -> str:
    """Such as "valve box A", also where the crew typed "box A" or "Valve box A"."""
    words = box.name.split()
    while words and words[0].casefold() in ("valve", "box"):
        del words[0]
    return f"valve box {short(' '.join(words))}".rstrip()


def assembly_name(assembly: BackflowAssembly) -> str:
    """Such as "PVB (left of the garage)"."""
    return named(short(assembly.kind or "backflow assembly"), assembly.name)


def run_name(job: LoadedJob, run: PipeRun) -> str:
    """Such as "lateral run 4 of zone 2" or "mainline run 1"."""
    number = "?" if run.number is None else str(run.number)
    if run.zone_id is None:
        return f"mainline run {number}"
    return f"lateral run {number} of {zone_word(job.zone(run.zone_id))}"


def valve_name(job: LoadedJob, valve: Valve) -> str:
    """Such as "the valve of zone 3" or "the master valve"."""
    if valve.kind == "master":
        return "the master valve"
    return f"the valve of {zone_word(job.zone(valve.zone_id))}"


def controller_name(controller: OtherController | None) -> str:
    """Such as "controller B"; the first controller has no name of its own."""
    if controller is None:
        return "the first controller"
    words = controller.name.split()
    while words and words[0].casefold() == "controller":
        del words[0]
    return f"controller {short(' '.join(words), _SHORT_NAME)}".rstrip()


def terminal_name(job: LoadedJob, terminal: Terminal) -> str:
    """Such as "terminal 4", "the common terminal" or "terminal 1 of controller B"."""
    other = job.find(OtherController, terminal.controller_id)
    of = f" of {controller_name(other)}" if other is not None else ""
    if terminal.role == "common":
        return f"the common terminal{of}"
    if terminal.role == "master":
        return f"the master valve terminal{of}"
    return f"terminal {terminal.number}{of}" if terminal.number is not None else f"a terminal{of}"


def path_name(path: TwoWirePath | None) -> str:
    """Such as "path 1"."""
    return f"path {short(path.name)}".rstrip() if path is not None else "the path"


def decoder_name(decoder: Decoder) -> str:
    """Such as "decoder 12" or "output 2 of decoder 12"."""
    if decoder.address is None:
        return "a decoder without an address"
    return address_words(decoder.address, decoder.output).replace("address", "decoder")


def address_words(address: int | None, output: int | None) -> str:
    """Such as "address 12" or "output 2 of address 12"."""
    words = f"address {address if address is not None else '?'}"
    return f"output {output} of {words}" if output is not None else words


def listed(words: Sequence[str], most: int = _MOST_NAMED) -> str:
    """Words in a row: "a", "a and b", "a, b and c"; those beyond the `most` are only counted."""
    if len(words) > most:
        words = [*words[:most], f"{len(words) - most} more"]
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def fitting(*versions: str) -> str:
    """The first of these sentences that is not too long to read, else the last of them."""
    return next((one for one in versions if len(one) <= LONGEST_SENTENCE), versions[-1])


def sentence(text: str) -> str:
    """The text with a capital as its first letter."""
    return text[:1].upper() + text[1:]


def is_or_are(count: int) -> str:
    """The verb for this many things."""
    return "is" if count == 1 else "are"


_OF_A_STRETCH = ("flush", "backfill", "pressure_test", "sign_off")
"""Tables whose rows are named by the zone or mainline that they belong to."""


def row_name(job: LoadedJob, table: str, row_id: str) -> str:
    """Such as "zone 3 (front lawn)" or, where the row is gone, "a zone that was removed"."""
    row = job.row(row_id)
    if table == "job":
        return "the property"
    title = TABLES[table].title if table in TABLES else table.replace("_", " ")
    return f"a {title} that was removed" if row is None else _row_words(job, table, row)


def _row_words(job: LoadedJob, table: str, row: Record) -> str:
    match row:
        case Zone():
            found = zone_name(row)
        case PipeRun():
            found = run_name(job, row)
        case Valve():
            found = valve_name(job, row)
        case Terminal():
            found = terminal_name(job, row)
        case ValveBox():
            found = box_name(row)
        case Cable():
            found = cable_name(row)
        case BackflowAssembly():
            found = assembly_name(row)
        case OtherController():
            found = controller_name(row)
        case TwoWirePath():
            found = path_name(row)
        case Decoder():
            found = decoder_name(row)
        case _:
            found = _other_row_words(job, table, row)
    return found


def _other_row_words(job: LoadedJob, table: str, row: Record) -> str:
    """A row that is named by what it belongs to, else by its own number, name or text."""
    title = type(row).title
    if isinstance(row, Conductor):
        cable = job.find(Cable, row.cable_id)
        whose = cable_name(cable) if cable is not None else "a cable that was removed"
        return f"conductor {row.position or '?'} of {whose}"
    if isinstance(row, Head):
        run = job.find(PipeRun, row.run_id)
        return f"the head of {run_name(job, run)}" if run is not None else "a head"
    if isinstance(row, LoadItem):
        return f"{title} {short(row.key or row.item)}".rstrip()
    if table in _OF_A_STRETCH:
        zone_id = getattr(row, "zone_id", None)
        stretch = "the mainline" if zone_id is None else zone_word(job.zone(zone_id))
        return f"the {title} of {stretch}"
    if type(row).once:
        return f"the {title}"
    own = getattr(row, "number", None) or getattr(row, "name", None) or getattr(row, "text", None)
    return f"{title} {short(str(own))}" if own else f"a {title}"
