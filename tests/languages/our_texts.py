"""Every text of ours that is shown in the language in use, collected from the program itself."""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache, partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import get_args

from builders import all_signed, bare_job, sound_job

import fieldbook
from fieldbook.actions.job_files import import_file
from fieldbook.actions.keymap import ACTIONS
from fieldbook.actions.properties import demo_files
from fieldbook.checks.progress.holds import HOLDS, SIGN_OFFS
from fieldbook.checks.registry import CHECKS, verdicts
from fieldbook.languages.language_texts import texts
from fieldbook.languages.translator import Translator
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.contents.catalogue import PAPERS
from fieldbook.papers.contents.dispute_sheet import Claim, ClaimPhoto, dispute_sheet
from fieldbook.papers.printing.printed_words import WORDS
from fieldbook.papers.wire_signs import SIGNS
from fieldbook.records.base import PLACE_WORDS, facts_of
from fieldbook.records.entered_texts import entered_texts
from fieldbook.records.loaded_job import RECORDS, LoadedJob
from fieldbook.records.tables.ties import TIED_THINGS
from fieldbook.screens.job.place_tabs import PLACE_NAMES, SHORT_NAMES
from fieldbook.screens.sheets import BUILDERS
from fieldbook.screens.sheets.presses import KeyPress
from fieldbook.screens.sheets.sheet import Sheet
from fieldbook.store.book import Book
from fieldbook.trade.cautions import CAUTIONS, MARK_COLOURS
from fieldbook.trade.colours import BASE_COLOURS
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE
from fieldbook.trade.rules.keys import RULE_KEYS
from fieldbook.units import System

ROOT = Path(fieldbook.__file__).parent
NOW = datetime(2026, 5, 20, 12, 0, tzinfo=UTC)
A_CLAIM = Claim(
    "x", ("x",), (), (("this laptop", "x"),), (ClaimPhoto("x", "x", "00", ""),), frozenset()
)
_NO_CELL = ("hidden", "when")


_NEVER_SHOWN = (
    *("$success bold", "$warning bold", "$secondary", "gauge awg", "Demo town (invented)"),
    *(
        "5 Harbor View",
        "31 Mill Street",
        "Birch Terrace (invented)",
        "Ctrl+K",
        "Ctrl+O",
        "Ctrl+S",
        "Ctrl+U",
    ),
    *("Ctrl+Z", "Tab", "'DejaVu Sans Mono', monospace", "Libertinus Serif"),
    "Callable[[type[Row]], _T]",
)
"""Styles, a head that is read and not written, what the demo's invented things are called, keys."""


def is_words(text: str) -> bool:
    """Whether a text holds a word: sizes, letters of a kind and figures need no translation."""
    if text in _NEVER_SHOWN:
        return False
    return re.search(r"[a-z]{3}|^[A-Z][a-z]+\b", text) is not None or text in ("no", "us")


def of_facts() -> Iterator[str]:
    """Label, purpose, choices and good answer of every column that has a cell."""
    for record in RECORDS.values():
        for fact in facts_of(record).values():
            if fact.kind not in _NO_CELL:
                yield from (fact.label, fact.why, fact.good, *fact.choices)


def of_actions() -> Iterator[str]:
    for action in ACTIONS:
        yield from (action.label, action.help)


def of_cautions() -> Iterator[str]:
    for caution in CAUTIONS:
        yield from (caution.line, caution.text)
    for colour, what in MARK_COLOURS:
        yield from (colour, what)


def of_places_and_sign_offs() -> Iterator[str]:
    for names in (PLACE_WORDS, PLACE_NAMES, SHORT_NAMES, SIGN_OFFS):
        yield from names.values()
    yield from (hold.title for hold in HOLDS)
    yield from (check.name for check in CHECKS)
    yield from (key.label for key in RULE_KEYS.values())
    yield from (record.title for record in RECORDS.values() if hasattr(record, "title"))


@cache
def demo_jobs() -> tuple[LoadedJob, ...]:
    """The demo's jobs, a sound one signed for all of its work, and one with nothing in it."""
    with TemporaryDirectory() as folder, Book(Path(folder, "demo.book")) as book:
        jobs = [book.load(import_file(book, file, "RO").job_id) for file in demo_files()]
    return (*jobs, all_signed(sound_job()), sound_job(units="metric"), bare_job())


def of_papers() -> Iterator[str]:
    """What papers pass through `say`: recorded while all are made, and the literals of the code."""
    said: list[str] = []

    def recording(text: str) -> str:
        said.append(text)
        return text

    for job in demo_jobs():
        source = PaperSource(job, verdicts(job, NOW), NOW)
        for make in PAPERS.values():
            make(replace(source, say=recording))
        dispute_sheet(replace(source, say=recording), A_CLAIM)
    yield from said
    yield from WORDS.values()
    for file in sorted((ROOT / "papers").rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Call) and _name(node.func) == "say":
                yield from (text for one in node.args for text in _constants(one))


def of_sheets() -> Iterator[str]:
    """What the sheets of every place say: titles, heads, labels, lines that add a row."""
    for job in demo_jobs():
        entered = [text for text in entered_texts(job) if len(text) > 2]
        for build in BUILDERS.values():
            for system in get_args(System):
                texts = _of_sheet(build(job, system))
                # What holds a figure is made from a text of the code, which is asked for there.
                ours = (one for one in texts if not any(map(str.isdigit, one)))
                yield from (one for one in ours if not any(text in one for text in entered))


def _of_sheet(sheet: Sheet) -> Iterator[str]:
    for section in sheet.sections:
        yield section.title
        yield from section.heads
        for row in section.rows:
            yield from (row.label, row.beside, row.tail)
            yield from (cell.text for cell in row.cells if isinstance(cell.press, KeyPress))


def of_keys() -> Iterator[str]:
    """The words of keys at the foot of screens: ("Enter", "keep"), (key_of("flags"), "flags")."""
    for file in sorted((ROOT / "screens").rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Tuple) and len(node.elts) == 2 and _is_key(node.elts[0]):
                yield from (text for one in node.elts for text in _constants(one))
            elif isinstance(node, ast.Dict) and node.keys:
                keys = [one.value for one in node.keys if isinstance(one, ast.Constant)]
                if all(key in _ACTION_NAMES for key in keys):
                    yield from (text for one in node.values for text in _constants(one))


_ACTION_NAMES = {action.name for action in ACTIONS}
_KEY = re.compile(
    r"(Ctrl|Alt)\+.|F[0-9]+|.|.*(Enter|Esc|Space|Tab|Up|Right|letter|type|to 5|y n).*"
)


def _is_key(node: ast.expr) -> bool:
    if isinstance(node, ast.Call):
        return _name(node.func) == "key_of"
    return any(_KEY.fullmatch(text) for text in _constants(node))


def _name(node: ast.expr) -> str:
    return node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", "")


def _constants(node: ast.expr) -> Iterator[str]:
    """The texts that an argument may be: itself, or either side of a condition."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from (*_constants(node.body), *_constants(node.orelse))


def of_code(*patterns: str) -> Iterator[str]:
    """Each phrase of two words or more in these files; what is filled in later as a blank.

    f"Zone {zone.number} takes {flow}" is "Zone {number} takes {flow}".
    """
    for pattern in patterns:
        for file in sorted(ROOT.glob(pattern)):
            yield from filter(_is_phrase, _strings(ast.parse(file.read_text("utf-8"))))


def _strings(tree: ast.Module) -> Iterator[str]:
    """Every text of a module but its docstrings; of an f-string the whole."""
    nodes = list(ast.walk(tree))
    apart = {id(node.value) for node in nodes if isinstance(node, ast.Expr)}
    apart |= {id(part) for node in nodes if isinstance(node, ast.JoinedStr) for part in node.values}
    for node in nodes:
        if isinstance(node, ast.JoinedStr):
            yield _with_blanks(node)
        elif isinstance(node, ast.Constant) and id(node) not in apart:
            yield from (text.replace("{}", "{thing}") for text in _constants(node))


def _with_blanks(node: ast.JoinedStr) -> str:
    """An f-string as a template; the same expression is the same blank."""
    text, blanks = "", dict[str, str]()
    for part in node.values:
        if isinstance(part, ast.FormattedValue):
            what = ast.dump(part.value)
            if what not in blanks:
                name = _name_of(part.value)
                taken = sum(one.rstrip("_23456789") == name for one in blanks.values())
                blanks[what] = f"{name}_{taken + 1}" if taken else name
            text += f"{{{blanks[what]}}}"
        elif isinstance(part, ast.Constant):
            text += str(part.value)
    return text


def _name_of(node: ast.expr) -> str:
    match node:
        case ast.Name():
            return node.id.strip("_")
        case ast.Attribute():
            return node.attr
        case ast.Call():
            return _name_of(node.func).strip("_")
        case ast.Subscript():
            return _name_of(node.value)
        case _:
            return "words"


_LINKS = ("the", "and", "for", "more", "twice")
"""Words that say too little for a text with blanks to be known by them."""
_WORD = re.compile(r"[A-Za-z]{3,}")


def _is_phrase(text: str) -> bool:
    """Whether a text of the code is something that a person reads."""
    given = re.sub(r"\{\w+\}", " ", text)
    found = [word for word in _WORD.findall(given) if given == text or word not in _LINKS]
    fewest = 1 if given != text else 2
    return len(found) >= fewest and " " in text.strip() and not _CODE.search(text)


_CODE = re.compile(r"[<>=#$\\^]|SELECT |;$|^dialog ")
"""Signs of a pattern, a style or a statement."""

_SINGLE = (
    *("Property", "Customer", "Flushed", "Places", "Next", "Runs out", "Flags", "Open", "none"),
    *("Not checked", "initials", "not entered", "not now", "override", "unproven", "Keys", "Done"),
    *("Begun", "test", "ticket", "permit", "licence", "here", "street", "boxes", "stop", "fix"),
    *("note", "today", "tomorrow", "{n} of {all}", "{n} open", "{n} of {all} entered", "row"),
    *BASE_COLOURS,
    *(f"{colour} {what}" for colour, what in MARK_COLOURS),
    *("purple reclaimed", "water", "Undo", "Next {where}"),
)
"""Words that stand alone: the board's heads, words under a signature, colours."""

_COMPOSED = (
    *("{n} stop", "{n} stops", "{n} fix", "{n} fixes", "{n} note", "{n} notes"),
    *("{who} draws {flow}", "{who} draw together {flow}"),
    "{who} draws {flow}, but {rule} allows {most}: {over} too much.",
    *("when the {name} was tested", "whether the {name} stops a zone", "Generic default"),
    *(
        "swapped",
        "draw",
        "draw it",
        "now",
        "limit",
        "spare",
        "kept",
        "mixed up",
        "shut-offs",
        "grounding",
        "nothing entered of {listed}",
    ),
    *("{said}, overrides a hold: {what}.", "whether the soil is free of rock of {where}"),
    *(COMMON_PRACTICE, "{n} along, {m} behind it", "{n} along, {m} out"),
    *(
        "cover of {thing}",
        "Irrigation as built, for {who}",
        "{cable}, {gauge}, from the controller",
    ),
    *(
        "valve of {zone}, in box {name}",
        "{zone} works at {flow}, {pressure}",
        "{rule} allows {flow}",
    ),
    *(
        "valve, {pressure} behind it",
        "it needs {pressure}",
        "it needs",
        "to spare",
        "run",
        "common",
    ),
    *("the driest: {cans}", "the wettest: {cans}", "can {n} ({seen})", "Scale {scale}"),
    *(f"position of {thing} {{name}}" for thing in TIED_THINGS),
    *(f"{thing} {{name}}: {{tapes}}" for thing in TIED_THINGS),
    *("twice", "Entered", "{n} or {m}?", "{n} more columns >", "{n} more column >"),
    *("{colour} in cable {name}", "Next {where}: {step}"),
    "{wire} is used {times} at the {where}: by {parts}.",
    "{look}: it may be {wire}, only on {whose}.",
    "The {name} stands {height} over {what}; it needs {least}.",
    "The {name} stands {height} under {what}; it needs {least}.",
    "{who} draw together {flow}, but {rule} allows {most}: {over} too much.",
)
"""What the code puts together from several texts, where the whole needs another order of words."""

SOURCES: Mapping[str, Callable[[], Iterator[str]]] = {
    "facts": of_facts,
    "actions": of_actions,
    "cautions": of_cautions,
    "places and sign-offs": of_places_and_sign_offs,
    "papers": of_papers,
    "sheets": of_sheets,
    "keys": of_keys,
    "screens": partial(of_code, "screens/**/*.py"),
    "single words of screens": lambda: iter(_SINGLE),
    "composed": lambda: iter(_COMPOSED),
    "code of papers": partial(of_code, "papers/**/*.py", "materials/**/*.py"),
    "pure rooms": partial(
        of_code,
        *("audit/**/*.py", "diagnosis/**/*.py", "watering/**/*.py", "wiring/*.py"),
        *("water/advice/*.py", "records/*.py", "units.py"),
    ),
    "signs": lambda: (text for sign in SIGNS.values() for text in (sign.word, sign.means)),
    "what actions say": partial(of_code, "actions/**/*.py"),
    "what checks say": partial(of_code, "checks/*.py", "checks/[!w]*/**/*.py"),
    "what checks of the water say": partial(of_code, "checks/water/**/*.py"),
    "what checks of the wire say": partial(of_code, "checks/wire/**/*.py"),
    "what the watering's needs say": partial(of_code, "checks/watering/*.py"),
}
"""By the part of the program that the texts are of."""


@cache
def texts_of(part: str) -> tuple[str, ...]:
    """The texts of a part that need words, each once, in order."""
    return tuple(sorted({text for text in SOURCES[part]() if is_words(text)}))


def lacking(part: str) -> list[str]:
    """The texts of a part that have no Spanish; what was seen at work may be made of several."""
    known = texts("es")
    spanish = Translator("es")
    missing = [text for text in texts_of(part) if text not in known]
    return missing if part not in _AT_WORK else [one for one in missing if not spanish.knows(one)]


_AT_WORK = ("papers", "sheets")
"""Parts whose texts are those of real jobs, with names and figures in them."""
