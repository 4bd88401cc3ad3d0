"""Put the Spanish catalogue in order: drop what nothing uses, add what is missing as empty entries.

Run it after adding a text, fill in the empty entries, then run it again:
python tests/languages/tidy_catalogue.py
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

import polib

from fieldbook.languages.language_texts import catalogue_path

WIDTH = 100
HEADER = """Spanish for crews and owners in the United States and Mexico: plain words, usted.
Sorted by the English text, so that several people can add to it. An entry with an empty text is
not translated yet.
"Published" in a comment names the terms of the entry that were read in public Spanish pages: water
utilities' pages (regionalh2o.org/es, Santa Rosa), the Arizona 811 booklet, OSHA's Spanish glossary,
an extension module on irrigation, a landscape contractors' manual, a construction dictionary, and
30 Tex. Admin. Code 344.65. All other words are from memory."""
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


def tidy(catalogue: polib.POFile) -> None:
    """Sort the entries, and name the published terms in each."""
    catalogue.header = HEADER
    for entry in catalogue:
        terms = terms_in(entry.msgstr)
        entry.comment = f"Published: {', '.join(terms)}." if terms else ""
    catalogue.sort(key=lambda entry: entry.msgid)


def tidied(path: Path) -> polib.POFile:
    """The catalogue at a path, in order."""
    catalogue = polib.pofile(str(path), encoding="utf-8", wrapwidth=WIDTH)
    tidy(catalogue)
    return catalogue


if __name__ == "__main__":
    tests = Path(__file__).parents[1]
    sys.path[:0] = [str(tests), str(tests / "support"), str(tests / "languages")]
    from our_texts import SOURCES, lacking, texts_of

    es = tidied(catalogue_path("es"))
    used = {text for part in SOURCES for text in texts_of(part)}
    for left in [entry for entry in es if entry.msgid not in used]:
        es.remove(left)
    have = {entry.msgid for entry in es}
    new = {text for part in SOURCES for text in lacking(part)} - have
    es.extend(polib.POEntry(msgid=text) for text in new)
    tidy(es)
    es.save(str(catalogue_path("es")))
    print(f"{len(es)} entries, {len(es.untranslated_entries())} of them empty.")
