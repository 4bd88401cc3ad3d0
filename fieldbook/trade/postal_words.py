"""Postal abbreviations, so that "12 North Elm Street" and "12 N. Elm St" are one address.

Street suffixes: the usual ones of USPS Publication 28, Postal Addressing Standards, appendix C1,
each with the forms listed there as commonly used. Directions: its section 233. Units: its appendix
C2. Written from memory of those tables, so a word may be missing: then two spellings of it are two
addresses, and no flag shows. Nothing is ever changed by this, only compared.
"""

from __future__ import annotations

import re
from functools import lru_cache

_SUFFIXES = """
aly alley allee ally | anx annex annx | arc arcade | ave avenue av aven avenu avn avnue
bch beach | bnd bend | blf bluff bluf | blvd boulevard boul boulv | br branch brnch
brg bridge brdge | brk brook | byp bypass byp bypa bypas byps | cp camp cmp
cyn canyon canyn cnyn | cpe cape | cswy causeway causwa
ctr center cent centr centre cnter cntr | cir circle circ circl crcl crcle | clf cliff
clfs cliffs | clb club | cor corner | cors corners | crse course | ct court | cts courts
cv cove | crk creek | cres crescent crsent crsnt | xing crossing crssng | xrd crossroad
curv curve | dl dale | dm dam | dr drive driv drv | est estate | ests estates
expy expressway exp expr express expw | ext extension extn extnsn | fls falls | fry ferry frry
fld field | flds fields | flt flat | flts flats | frd ford | frst forest forests
frg forge forg | frk fork | frks forks | ft fort frt | fwy freeway freewy frway frwy
gdn garden gardn grden grdn | gdns gardens grdns | gtwy gateway gatewy gatway | gln glen
grn green | grv grove grov | hbr harbor harb harbr hrbor | hvn haven | hts heights ht
hwy highway highwy hiway hiwy hway | hl hill | hls hills | holw hollow hllw hollows holws
inlt inlet | is island islnd | iss islands islnds | isle isles
jct junction jction jctn junctn juncton | ky key | kys keys | knl knoll knol | knls knolls
lk lake | lks lakes | lndg landing lndng | ln lane | lgt light | lf loaf | lck lock | lcks locks
ldg lodge ldge lodg | loop loops | mnr manor | mnrs manors | mdw meadow | mdws meadows medows
ml mill | mls mills | msn mission missn mssn | mt mount mnt
mtn mountain mntain mntn mountin mtin | nck neck | orch orchard orchrd | oval ovl
park prk parks | pkwy parkway parkwy pkway pky parkways pkwys | path paths | pike pikes
pne pine | pnes pines | pl place | pln plain | plns plains | plz plaza plza | pt point
pts points | prt port | prts ports | pr prairie prr | radl radial rad radiel
rnch ranch ranches rnchs | rpd rapid | rpds rapids | rst rest | rdg ridge rdge | rdgs ridges
riv river rvr rivr | rd road | rds roads | rte route | shl shoal | shls shoals | shr shore shoar
shrs shores shoars | spg spring spng sprng | spgs springs spngs sprngs | sq square sqr sqre squ
sta station statn stn | strm stream streme | st street strt str | sts streets
smt summit sumit sumitt | ter terrace terr | trce trace traces | trak track tracks trk trks
trl trail trails trls | trlr trailer | tunl tunnel tunel tunls tunnels tunnl
tpke turnpike trnpk turnpk | un union | vly valley vally vlly | via viaduct vdct viadct
vw view | vws views | vlg village vill villag villg villiage | vl ville
vis vista vist vst vsta | walk walks | way wy | ways | wl well | wls wells
"""
_DIRECTIONS = """
n north | s south | e east | w west | ne northeast | nw northwest | se southeast | sw southwest
"""
_UNITS = """
apt apartment | bldg building | fl floor | lot | ste suite | unit | rm room | spc space
"""


def _by_word() -> dict[str, str]:
    """The abbreviation of each word that has one. A word of two tables keeps its first."""
    found: dict[str, str] = {}
    for table in (_SUFFIXES, _DIRECTIONS, _UNITS):
        for words in re.split(r"[|\n]", table):
            short, *long = words.split() or [""]
            for word in long:
                found.setdefault(word, short)
    return found


_SHORT = _by_word()
_WORDS = re.compile(r"\w+")


def has_short(word: str) -> bool:
    """Whether a word has an abbreviation, or is one."""
    plain = word.casefold().strip(".")
    return plain in _SHORT or plain in _SHORT.values()


@lru_cache(maxsize=1 << 16)
def address_key(address: str) -> str:
    """An address as it is compared: without case, spaces and punctuation, words abbreviated.

    An apostrophe joins what it stands between: "St. Mary's" is "st marys". Two addresses are one if
    their keys are equal and not empty.
    """
    plain = re.sub("['\u2019.]", "", address.casefold())
    return " ".join(_SHORT.get(word, word) for word in _WORDS.findall(plain))
