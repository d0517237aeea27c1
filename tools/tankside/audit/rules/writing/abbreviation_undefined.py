"""A short form that the book does not spell out."""

import re
from collections.abc import Collection, Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.wording import Said, in_english, read_by_people
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.problems import quoted
from tankside.units import UNITS

#: a word of capitals and figures, with the hyphens of a tag
WORD = re.compile(r"(?<![\w<-])[A-Za-z0-9]+(?:-[A-Za-z0-9]+)*(?![\w>])")
SHORT = re.compile(r"[A-Z][A-Z0-9]{1,2}")
CAPITALS = re.compile(r"\b[A-Z]+(?: [A-Z]+)*\b")
#: what stands on signs and switches, and the names of countries
PLAIN = re.compile(
    r"A|AM|AN|AND|ARE|AT|BE|BY|CAN|DO|DRY|EU|FOR|GO|HOT|I|IF|IN|IS|IT|NO|NOT|OF|OFF|OK|ON|OR|OUT|PM|THE|TO|UK|UP|US|USE"
    r"|WET|YES"
)
UNIT_WORDS = frozenset(word for symbol in UNITS for word in re.findall(r"[A-Za-z0-9]+", symbol))


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read("HSE HSG48", "as a checklist of it says", "usual words, and no abbreviations"),
    memory("EPA QA/G-6", "definitions", "a procedure says what its acronyms stand for"),
)
def abbreviation_undefined(audited: Audited) -> Iterator[Found]:
    """A short form is a tag of the book, or book.yaml says under `abbreviations` what it stands for.

    Looked at are words of two or three capitals and figures in all that a procedure says to people, and in name, place,
    material and note of each piece of equipment. Tags, units and names of countries are known. Longer words in capitals
    are taken for inscriptions (HOLD, CLEAN), and so is what stands beside one of them (DO NOT OPERATE) or on a switch
    (ON, OFF).

    A tag that no piece of equipment has is found, too: nobody will find V9.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - do: Put your PPE on.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - do: Put your PPE on.
        # procedures/plant/book.yaml
        abbreviations:
          PPE: personal protective equipment
    """
    known = _known(audited)
    for said in (*_in_procedures(audited), *_on_equipment(audited)):
        for word in _undefined(said.text, known):
            yield Found(
                said.at,
                said.text.span,
                f"{quoted(word)} is neither a tag of the book nor one of its abbreviations",
                "spell it out, or add it to 'abbreviations' in plant/book.yaml",
            )


def _in_procedures(audited: Audited) -> Iterator[Said]:
    for procedure in in_english(audited):
        yield from (Said(str(procedure.procedure), text) for text in read_by_people(procedure))


def _on_equipment(audited: Audited) -> Iterator[Said]:
    for tag, piece in audited.plant.equipment.equipment.items():
        told = (piece.name, piece.where, piece.made_of, piece.note)
        yield from (Said(str(tag), text) for text in told if text is not None)


def _known(audited: Audited) -> frozenset[str]:
    tags = frozenset(map(str, audited.plant.equipment.equipment))
    return tags | frozenset(map(str, audited.plant.facts.abbreviations)) | UNIT_WORDS


def _undefined(text: str, known: Collection[str]) -> Iterator[str]:
    inscribed = {word for run in CAPITALS.findall(text) if max(map(len, run.split())) > 3 for word in run.split()}
    for found in WORD.findall(text):
        if found not in known and found not in inscribed:
            yield from (part for part in found.split("-") if _is_short(part) and part not in known)


def _is_short(word: str) -> bool:
    return SHORT.fullmatch(word) is not None and PLAIN.fullmatch(word) is None
