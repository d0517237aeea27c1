"""What each hazard statement puts on a label (UN GHS), and which of it gives way to something stronger."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import reduce

from tankside.model.facts import Material

NONE = ""
DANGER = "Danger"
WARNING = "Warning"
EXCLAMATION = "GHS07"
SKULL = "GHS06"
CORROSION = "GHS05"
ENVIRONMENT = "GHS09"
#: signal word (two where the category decides), pictograms, statements. Read means in a copy of annex I of Regulation
#: (EC) 1272/2008, whose tables show pictograms as drawings; which pictogram a class has is then from memory. Statements
#: whose pictogram depends on the category (H221, H229) or that only come beside others (H230 to H232) are left out.
_TABLE = (
    (DANGER, "GHS01", "H200 H201 H202 H203 H240"),  # from memory
    (WARNING, "GHS01", "H204"),  # from memory
    (DANGER, NONE, "H205"),  # from memory
    (DANGER, "GHS01 GHS02", "H241"),  # from memory
    (DANGER, "GHS02", "H222 H224 H225 H251 H260"),  # read, 2.3.3, 2.6.3, 2.11.3, 2.12.3
    (DANGER, "GHS02", "H206 H220 H250"),  # from memory
    (WARNING, "GHS02", "H223 H226 H252"),  # read, 2.3.3, 2.6.3, 2.11.3
    (WARNING, "GHS02", "H208"),  # from memory
    (f"{DANGER} {WARNING}", "GHS02", "H261"),  # read, 2.12.3
    (f"{DANGER} {WARNING}", "GHS02", "H207 H228 H242"),  # from memory
    (WARNING, NONE, "H227"),  # from memory; not in the EU
    (DANGER, "GHS03", "H270 H271"),  # read, 2.4.3, 2.13.3
    (f"{DANGER} {WARNING}", "GHS03", "H272"),  # read, 2.13.3
    (WARNING, "GHS04", "H280 H281"),  # from memory
    (WARNING, CORROSION, "H290"),  # from memory
    (DANGER, SKULL, "H300 H301 H310 H311 H330 H331"),  # read, 3.1.4
    (WARNING, EXCLAMATION, "H302 H312 H332"),  # read, 3.1.4
    (WARNING, NONE, "H303 H313 H333 H316 H320"),  # from memory; not in the EU
    (DANGER, CORROSION, "H318"),  # read, 3.3.4
    (DANGER, CORROSION, "H314"),  # from memory
    (WARNING, EXCLAMATION, "H317 H319 H335 H336"),  # read, 3.3.4, 3.4.4, 3.8.4
    (WARNING, EXCLAMATION, "H315"),  # from memory
    (DANGER, "GHS08", "H334 H370"),  # read, 3.4.4, 3.8.4
    (WARNING, "GHS08", "H371"),  # read, 3.8.4
    (DANGER, "GHS08", "H304 H340 H350 H360 H372"),  # from memory
    (WARNING, "GHS08", "H305 H341 H351 H361 H373"),  # from memory
    (NONE, NONE, "H362"),  # from memory
    (WARNING, ENVIRONMENT, "H400 H410"),  # read, 4.1.4
    (NONE, ENVIRONMENT, "H411"),  # read, 4.1.4
    (NONE, NONE, "H412 H413"),  # read, 4.1.4
    (NONE, NONE, "H401 H402"),  # from memory; not in the EU
    (WARNING, EXCLAMATION, "H420"),  # word read, 5.1.4
)
_OF_CODE: Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    code: (tuple(words.split()) or (NONE,), tuple(pictograms.split()))
    for words, pictograms, codes in _TABLE
    for code in codes.split()
}
ACUTE = frozenset({"H302", "H312", "H332"})
IRRITATION = frozenset({"H315", "H319"})
SKIN_SENSITISATION = frozenset({"H317"})
RESPIRATORY_SENSITISATION = "H334"


@dataclass(frozen=True)
class Label:
    """What hazard statements put on a label."""

    #: the signal words that may stand there; "" for none
    words: frozenset[str]
    #: the pictograms that must
    wanted: frozenset[str]
    #: those that may as well
    allowed: frozenset[str]
    #: those that must not, because a stronger one stands there
    dropped: frozenset[str]
    #: False when a statement is not in the table; what it puts there is then not known
    is_whole: bool


def codes_of(material: Material) -> frozenset[str]:
    """Return the codes of the hazard statements of a material, without what is added to them: `H360FD` is H360."""
    return frozenset(str(hazard.code)[:4] for hazard in material.hazards)


def label_of(statements: Iterable[str], jurisdiction: str) -> Label:
    """Return what hazard statements put on a label under some law.

    Precedence is that of 29 CFR 1910.1200, App. C.2.1, in the US, and of Article 26 of Regulation (EC) 1272/2008
    elsewhere. OSHA leaves hazards to the environment to others: in the US they put nothing there, but may.
    """
    codes = {each[:4] for each in statements if each.startswith("H")}
    known = codes & _OF_CODE.keys()
    counted = {each for each in known if jurisdiction != "US" or not each.startswith("H4")}
    marks = {mark for each in counted for mark in _OF_CODE[each][1]}
    asking = {each for each in counted if EXCLAMATION in _OF_CODE[each][1]}
    gives_way = bool(asking) and asking <= _outranked(counted, marks, jurisdiction)
    dropped = frozenset({EXCLAMATION} if gives_way else ())
    environmental = {word for each in known - counted for word in _OF_CODE[each][0]}
    return Label(
        words=_words(counted, environmental, is_whole=known == codes),
        wanted=frozenset(marks) - dropped - _optional(marks, jurisdiction),
        allowed=frozenset({*marks, ENVIRONMENT}) - dropped,
        dropped=dropped,
        is_whole=known == codes,
    )


def _words(counted: set[str], environmental: set[str], *, is_whole: bool) -> frozenset[str]:
    """Return the signal words that may stand there: of several statements the strongest, Danger drops Warning."""
    found = reduce(_stronger, (frozenset(_OF_CODE[each][0]) for each in sorted(counted)), frozenset({NONE}))
    if environmental - {NONE} and found == {NONE}:
        found |= {WARNING}
    if not is_whole:
        found |= {DANGER} if WARNING in found else {WARNING, DANGER}
    return found


def _stronger(one: frozenset[str], other: frozenset[str]) -> frozenset[str]:
    order = (NONE, WARNING, DANGER)
    return frozenset(order[max(order.index(a), order.index(b))] for a in one for b in other)


def _outranked(codes: set[str], marks: set[str], jurisdiction: str) -> frozenset[str]:
    """Return the statements for which the exclamation mark does not appear."""
    found: frozenset[str] = frozenset()
    if SKULL in marks:
        found |= ACUTE if jurisdiction == "US" else codes
    if CORROSION in marks:
        found |= IRRITATION
    if RESPIRATORY_SENSITISATION in codes:
        found |= SKIN_SENSITISATION | IRRITATION
    return found


def _optional(marks: set[str], jurisdiction: str) -> frozenset[str]:
    """Return what need not stand beside another pictogram (Article 26(1)(a) and (e))."""
    found: set[str] = set()
    if jurisdiction != "US":
        found |= {"GHS02", "GHS03"} if "GHS01" in marks else set()
        found |= {"GHS04"} if marks & {"GHS02", SKULL} else set()
    return frozenset(found)
