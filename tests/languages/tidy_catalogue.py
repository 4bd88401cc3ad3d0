"""Put the Spanish catalogue in order: drop what nothing uses, add what is missing as empty entries.

It also mends a catalogue in which git left a conflict.

Run it after adding a text, fill in the empty entries, then run it again:
python tests/languages/tidy_catalogue.py
"""

from __future__ import annotations

import re
import sys
from ast import literal_eval
from collections.abc import Mapping
from pathlib import Path

from fieldbook.languages.language_texts import catalogue_path

HEADER = """Spanish for crews and owners in the United States and Mexico: plain words, usted.
Sorted by the English text, so that several people can add to it. An entry with an empty text is
not translated yet.
"Published" in a comment names the terms of the entry that were read in public Spanish pages: water
utilities' pages (regionalh2o.org/es, Santa Rosa), the Arizona 811 booklet, OSHA's Spanish glossary,
an extension module on irrigation, a landscape contractors' manual, a construction dictionary, and
30 Tex. Admin. Code 344.65. All other words are from memory."""
META = {
    "Language": "es",
    "MIME-Version": "1.0",
    "Content-Type": "text/plain; charset=UTF-8",
    "Content-Transfer-Encoding": "8bit",
}
PUBLISHED = (
    *(
        "aspersor",
        "rociador",
        "cabezal",
        "boquilla",
        "difusor",
        "rotor",
        "riego por goteo",
        "riego",
    ),
    *("zona", "válvula de control", "válvula principal", "válvula", "electroválvula", "solenoide"),
    *("diafragma", "llave de paso", "caja de válvulas", "controlador", "programador"),
    *("hora de inicio", "horario de riego", "sensor de lluvia", "cable", "bajo voltaje"),
    *("tomacorriente", "tubería", "tubo", "línea principal", "accesorio", "codo", "tapón"),
    *("unión", "rosca", "elevador", "medidor de agua", "suministro", "contraflujo", "reflujo"),
    *("dispositivo de prevención de contraflujo", "antisifón", "prueba", "inspector certificado"),
    *("proveedor de agua", "presión", "manómetro", "caudal", "filtro", "bomba", "balde", "drenar"),
    *("zanja", "excavación propuesta", "excavación", "profundidad", "arena", "suelo", "pala"),
    *("pasto", "césped", "jardín", "árbol", "escorrentía", "auditoría", "plano", "dueño"),
    *("contratista", "trabajador", "mantenimiento", "reparar", "reemplazar", "cerrar", "apagar"),
    *("señalización para estudios", "energía eléctrica", "línea de gas", "comunicación"),
    *("agua reciclada", "alcantarillado", "agua de recuperación"),
)
"""The longer before the shorter that it holds."""


def terms_in(text: str) -> list[str]:
    """The published terms of a Spanish text, also in the plural."""
    left, found = text.casefold(), []
    for term in PUBLISHED:
        pattern = r"\b" + re.escape(term).replace(r"\ ", r"(?:e?s)? ") + r"(?:e?s)?\b"
        if re.search(pattern, left):
            found.append(term)
            left = re.sub(pattern, "", left)
    return found


def read(path: Path) -> dict[str, str]:
    """The entries of a catalogue in which git may have put two people's lines between each other.

    What can't be told any more is left out: it is then missing, and asked for.
    """
    found: dict[str, str] = {}
    parts: list[str] = []
    for line in path.read_text("utf-8").splitlines():
        if line.startswith("msgid "):
            parts = [literal_eval(line.removeprefix("msgid "))]
        elif line.startswith("msgstr ") and len(parts) == 1:
            parts.append(literal_eval(line.removeprefix("msgstr ")))
        elif line.startswith('"') and parts:
            parts[-1] += literal_eval(line)
        else:
            parts = [] if line.startswith("msgstr ") else parts
            continue
        if len(parts) == 2 and parts[0]:
            found[parts[0]] = parts[1]
    return found


def written(entries: Mapping[str, str]) -> str:
    """The catalogue in order, the published terms named, each text on a line of its own.

    Git then joins what two people add without taking an entry apart.
    """
    lines = [*(f"# {line}" for line in HEADER.splitlines()), 'msgid ""', 'msgstr ""']
    lines += [f'"{name}: {value}\\n"' for name, value in META.items()]
    for text, spanish in sorted(entries.items()):
        terms = terms_in(spanish)
        lines += ["", *([f"#. Published: {', '.join(terms)}."] if terms else [])]
        lines += [f"msgid {_quoted(text)}", f"msgstr {_quoted(spanish)}"]
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'


if __name__ == "__main__":
    tests = Path(__file__).parents[1]
    sys.path[:0] = [str(tests), str(tests / "support"), str(tests / "languages")]
    path = catalogue_path("es")
    entries = read(path)
    path.write_text(written(entries), "utf-8")
    # Imported here: a catalogue that was damaged is mended before the program reads it.
    from our_texts import SOURCES, lacking, texts_of

    used = {text for part in SOURCES for text in texts_of(part)}
    entries = {text: spanish for text, spanish in entries.items() if text in used}
    for part in SOURCES:
        entries |= {text: "" for text in lacking(part) if text not in entries}
    path.write_text(written(entries), "utf-8")
    print(f"{len(entries)} entries, {sum(not one for one in entries.values())} of them empty.")
