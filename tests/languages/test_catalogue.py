"""The Spanish catalogue: nothing is missing, nothing is left over, each entry is whole."""

from __future__ import annotations

import subprocess
import sys
from functools import cache
from pathlib import Path

import polib
import pytest
from our_texts import SOURCES, lacking, texts_of
from tidy_catalogue import read, written

from fieldbook.languages.language_texts import catalogue_path, language_named
from fieldbook.languages.template import Template, blanks_of
from fieldbook.languages.translator import Translator
from fieldbook.trade.cautions import CAUTIONS, LONGEST_LINE

SPANISH = catalogue_path("es")
HELP = "run python tests/languages/tidy_catalogue.py, then fill in the empty entries of es.po"


@cache
def entries() -> list[polib.POEntry]:
    return list(polib.pofile(str(SPANISH), encoding="utf-8"))


@pytest.mark.parametrize("part", SOURCES)
def test_every_text_has_its_spanish(part: str) -> None:
    found = lacking(part)
    assert not found, f"{len(found)} texts of {part} lack Spanish: {HELP}: {found[:20]}"


def test_every_entry_is_used() -> None:
    used = {text for part in SOURCES for text in texts_of(part)}
    assert [entry.msgid for entry in entries() if entry.msgid not in used] == []


def test_no_entry_is_empty_or_stands_twice() -> None:
    assert [entry.msgid for entry in entries() if not entry.msgstr.strip()] == []
    ids = [entry.msgid for entry in entries()]
    assert len(ids) == len(set(ids))


def test_each_entry_keeps_its_blanks() -> None:
    """A figure that falls out of a sentence is a fault; "is" or "are" may be put otherwise."""
    differ = [
        entry.msgid
        for entry in entries()
        if {
            blank
            for blank in _differing(entry)
            if not blank.startswith(("words", "verb", "is_or_are", "are", "need"))
        }
    ]
    assert differ == []


def _differing(entry: polib.POEntry) -> set[str]:
    return set(blanks_of(entry.msgid)) ^ set(blanks_of(entry.msgstr))


def test_each_entry_ends_as_its_english_does() -> None:
    """A sentence stays a sentence, a label a label; so does what begins with a capital."""

    def shape(text: str) -> tuple[str, bool]:
        return text[-1] if text[-1:] in (".", ":") else "", text.lstrip("¿¡“")[:1].isupper()

    unlike = [
        entry.msgid
        for entry in entries()
        if shape(entry.msgid)[0] != shape(entry.msgstr)[0]
        or (shape(entry.msgid)[1] and not shape(entry.msgstr)[1] and entry.msgstr[0].isalpha())
    ]
    assert unlike == []


def test_the_file_is_in_order() -> None:
    assert SPANISH.read_text("utf-8") == written(read(SPANISH)), HELP


def test_what_is_spanish_already_is_not_put_into_spanish_again() -> None:
    """A paper says its own sentences in Spanish, and is then looked over as a whole."""
    say = Translator("es").say
    printed = ("papers", "facts", "cautions", "places and sign-offs")
    spanish = {say(text) for part in printed for text in texts_of(part)}
    changed = {text: again for text in spanish if (again := say(text)) != text}
    assert changed == {}


def test_the_lines_of_cautions_are_whole_on_the_narrowest_terminal() -> None:
    say = Translator("es").say
    long = [line for line in (say(one.line) for one in CAUTIONS) if len(line) > LONGEST_LINE]
    assert long == []


@pytest.mark.parametrize(
    ("word", "language"),
    [("es", "es"), ("ES", "es"), ("es_MX.UTF-8", "es"), ("en-US", "en"), ("fr", None), ("", None)],
)
def test_a_language_is_named_by_its_code(word: str, language: str | None) -> None:
    assert language_named(word) == language


def test_a_template_finds_what_stands_in_its_blanks() -> None:
    template = Template("{zone} takes {flow}, {zone} may take {most}.", "")
    assert template.fits("Zone 1 takes 3 gpm, Zone 1 may take 2 gpm.") == {
        "zone": "Zone 1",
        "flow": "3 gpm",
        "most": "2 gpm",
    }
    assert template.fits("Zone 1 takes 3 gpm, Zone 2 may take 2 gpm.") is None
    assert template.fits("Zone 1 takes 3 gpm.") is None


def test_english_reads_no_catalogue() -> None:
    """The start of the app in English must not wait for a language that nobody chose."""
    program = (
        "import sys; from fieldbook.languages.in_use import say; import fieldbook.cli.main; "
        "assert say('Zone') == 'Zone'; assert 'polib' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", program], check=True)


def test_what_a_person_entered_stays_as_it_is() -> None:
    translator = Translator("es", entered=("Controller",))
    assert translator.shown("Controller") == "Controller"
    assert translator.say("Controller") == "Controlador"
    assert translator.say("Valve boxes") == "Cajas de válvulas"
    assert translator.say("gate code 4417") == "gate code 4417"


def test_the_catalogue_is_part_of_the_package() -> None:
    assert SPANISH.is_relative_to(Path(sys.modules["fieldbook"].__path__[0]))
