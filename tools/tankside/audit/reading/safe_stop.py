"""What `stop_safely` says in words, compared with what it brings about in claims."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tankside.audit.audited import Audited
from tankside.catalogue.links import WORD
from tankside.model.claims import Claim, read_claim
from tankside.model.procedures import Procedure
from tankside.model.steps import DRIVEN, TURNED

#: a pump that draws from a drum; it runs only while its trigger is held
DRUM_PUMP = "drum-pump"
#: kinds of equipment -> what several of them are called, and what one is called
NAMES: Mapping[tuple[str, ...], tuple[str, str]] = {
    ("valve",): ("valves|taps", "valve|tap"),
    ("port",): ("hatches|ports|lids", "hatch|port|lid"),
    ("pump", DRUM_PUMP): ("pumps", "pump"),
    (DRUM_PUMP,): ("triggers", "trigger"),
    ("mixer",): ("mixers|stirrers|agitators", "mixer|stirrer|agitator"),
    ("exhaust",): ("exhausts", "exhaust"),
    ("nozzle", "hose"): ("nozzles|tails|hoses", "nozzle|tail|hose"),
    ("isolation-point",): ("locks|every lock", "lock"),
}
RUNNING = re.compile(
    r"\b(?:what|whatever|everything that|all that) (?:runs|is running|turns)\b|\beverything (?:off|stopped)\b"
)
OPEN = re.compile(r"\b(?:what|whatever|everything that|all that) is open\b|\beverything (?:shut|closed)\b")
#: V1 to V5
RANGE = re.compile(r"\b([A-Za-z]+(?:-[A-Za-z]+)?)([0-9]{1,3}) to ([A-Za-z]+(?:-[A-Za-z]+)?)([0-9]{1,3})\b")


@dataclass(frozen=True)
class Stop:
    """A safe stop: its words, and the pieces that its claims are about."""

    text: str
    #: tag -> kind of equipment
    claimed: Mapping[str, str]

    def unsaid(self) -> Iterator[str]:
        """Return the pieces that the words leave out."""
        named = frozenset(WORD.findall(self.text)) | frozenset(_in_ranges(self.text))
        yield from (tag for tag in self.claimed if tag not in named and not self._is_meant(self.claimed[tag]))

    def _is_meant(self, kind: str) -> bool:
        lower = self.text.lower()
        if (kind in (*DRIVEN, DRUM_PUMP) and RUNNING.search(lower)) or (kind in TURNED and OPEN.search(lower)):
            return True
        return any(self._says(kinds, lower) for kinds in NAMES if kind in kinds)

    def _says(self, kinds: tuple[str, ...], lower: str) -> bool:
        """Return whether pieces of these kinds are said by what all are called; one alone by what one is called."""
        many, one = NAMES[kinds]
        is_alone = sum(kind in kinds for kind in self.claimed.values()) == 1
        return re.search(rf"\b(?:{many}{f'|{one}' if is_alone else ''})\b", lower) is not None


def stop_of(audited: Audited, procedure: Procedure) -> Stop:
    """Return the safe stop of a procedure."""
    plant = audited.rehearsal.setting.plant
    drums = {tag for tag, part in plant.parts.items() if part.kind == "drum"}
    from_drums = {pump for pump in plant.pumps if plant.suction(pump) in drums}
    tags = dict.fromkeys(_about(map(read_claim, procedure.stop_leaves)))
    kinds = {tag: DRUM_PUMP if tag in from_drums else plant.parts[tag].kind for tag in tags}
    return Stop(str(procedure.stop_safely), kinds)


def _about(claims: Iterator[Claim]) -> Iterator[str]:
    for claim in claims:
        if not claim.is_worn:
            yield from (tag.partition(".")[0] for tag in map(str, claim.subjects))


def _in_ranges(text: str) -> Iterator[str]:
    for prefix, first, other, last in RANGE.findall(text):
        if prefix == other:
            yield from (f"{prefix}{number}" for number in range(int(first), int(last) + 1))
