"""How crews write a class of pipe: class 200, cl200, sch 40, type L, poly, galvanised.

A pressure class of PVC is its rating in psi: SDR 21 is 200, SDR 26 is 160, SDR 13.5 is 315 (ASTM
D2241: 4000 / (SDR - 1)). The other words are trade shorthand, from memory, no source.
"""

from __future__ import annotations

import re
from collections.abc import Collection

CLASS_EXAMPLE = "class 200, sch 40, type L, poly or galvanised"

_PRESSURE_CLASSES = {"200": "pvc sdr 21", "160": "pvc sdr 26", "315": "pvc sdr 13.5"}
_SCHEDULE = r"(?:sch|schd|sched|schedule|s)\s*"
_STEEL = r"(?:steel|galv|galvani[sz]ed|iron)"
_WORDS: tuple[tuple[str, str], ...] = (
    (rf"(?:pvc\s*)?(?:{_SCHEDULE})?(40|80)(?:\s*pvc)?", "pvc sch {}"),
    (r"(?:pvc\s*)?sdr\s*(13\.5|21|26)(?:\s*pvc)?", "pvc sdr {}"),
    (r"(?:type\s*)?([klm])(?:\s*(?:copper|cu))?", "copper {}"),
    (r"(?:copper|cu)\s*(?:type\s*)?([klm])", "copper {}"),
    (r"poly|polyethylene|poly\s*pipe|pe|black\s*poly", "pe sidr"),
    (r"pex(?:\s*(?:sdr\s*)?9)?", "pex sdr 9"),
    (rf"{_STEEL}(?:\s*(?:steel|pipe))?(?:\s*{_SCHEDULE}40)?", "steel sch 40"),
    (rf"old\s*{_STEEL}(?:\s*(?:steel|pipe))?", "steel sch 40 old"),
)
_PRESSURE = re.compile(r"(?:pvc\s*)?(?:(?:class|cl|c|pr)\s*)?(200|160|315)(?:\s*(?:psi|#|lb|pvc))?")


def class_among(text: str, classes: Collection[str]) -> str | None:
    """The class among these that was typed in one of the ways of crews; None for any other text."""
    # A list without pipe classes, such as kinds of heads, is not read in these words.
    if "pvc sdr 21" not in classes:
        return None
    typed = " ".join(text.casefold().replace("-", " ").replace(".", ". ").split())
    typed = typed.replace("13. 5", "13.5").replace(". ", " ").rstrip(".")
    pressure = _PRESSURE.fullmatch(typed)
    if pressure is not None:
        return _PRESSURE_CLASSES[pressure[1]]
    for pattern, named in _WORDS:
        match = re.fullmatch(pattern, typed)
        if match is not None:
            found = named.format(*match.groups())
            return next((one for one in classes if one.casefold() == found), None)
    return None
