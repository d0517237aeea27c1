"""Claims about the plant, as a book writes them: `V1, V2 and V4 shut`, `tank-250 holds softened-water`."""

import re
from dataclasses import dataclass

from tankside.loading.values import Text
from tankside.problems import near, quoted

#: kinds of equipment that liquid stands in
VESSELS = ("tank", "drum", "pail", "measure", "bottles")
#: kinds of equipment that hold liquid and lead it on
LINES = ("line", "hose")
_FILLED = (*VESSELS, *LINES)
_DRIVEN = ("pump", "mixer", "exhaust")
#: what can be said -> the kinds of equipment of which it can be said; no kinds: of any
STATES: dict[str, tuple[str, ...]] = {
    "open": ("valve", "port"),
    "shut": ("valve", "port"),
    "running": _DRIVEN,
    "stopped": _DRIVEN,
    "proved": ("exhaust",),
    "locked": ("isolation-point", "valve"),
    "unlocked": ("isolation-point", "valve"),
    "under pressure": LINES,
    "without pressure": LINES,
    "clean": _FILLED,
    "rinsed": _FILLED,
    "dirty": _FILLED,
    "empty": _FILLED,
    "holds": _FILLED,
    "at most": _FILLED,
    "at least": _FILLED,
    "released": ("tank",),
    "in process": ("tank",),
    "on hold": ("tank",),
    "unlabelled": ("tank",),
    "in order": (),
    "out of order": (),
    "joined to": (),
    "dissipated": (),
    "verified": (),
}
WORN = ("on", "off")
#: what is said of a source of energy, written `P1.mains`
ENERGY = ("dissipated", "verified")
NOTHING = "nothing"
_NAME = r"[A-Za-z][A-Za-z0-9-]*(?:\.[a-z][a-z0-9-]*)?"
_LISTED = rf"{_NAME}(?:(?:, | and ){_NAME})*"
#: the longest first, so that `on hold` is not read as `on`
_WORDS = "|".join(sorted((*STATES, *WORN), key=len, reverse=True))
_CLAIM = re.compile(rf"({_LISTED}) ({_WORDS})(?: (\S.*))?")


@dataclass(frozen=True)
class Claim:
    """A claim, read."""

    #: as it was written
    text: Text
    #: tags, protective equipment, or `tag.source` of an energy source
    subjects: tuple[Text, ...]
    state: str
    #: of `holds`
    materials: tuple[Text, ...] = ()
    #: of `joined to`; None for nothing
    other: Text | None = None
    #: of `at most` and `at least`
    quantity: Text | None = None

    @property
    def is_worn(self) -> bool:
        """Whether it is about protective equipment."""
        return self.state in WORN


class ClaimUnclearError(Exception):
    """The text is no claim: what is wrong with it, and the way out."""

    def __init__(self, sentence: str, hint: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.hint = hint


def kinds_of(state: str) -> tuple[str, ...]:
    """Return the kinds of equipment of which a state can be said; none when of any."""
    return STATES.get(state, ())


def read_claim(text: Text) -> Claim:
    """Return the claim that a text says.

    Raises:
        ClaimUnclearError: it is none.
    """
    found = _CLAIM.fullmatch(text)
    if found is None:
        raise ClaimUnclearError(f"{quoted(text)} cannot be read as a claim about the plant", _way_out(text))
    subjects, state, rest = found[1], found[2], found[3]
    claim = Claim(text, _names(text, subjects), state)
    is_energy = [("." in subject) for subject in claim.subjects]
    if (state in ENERGY and not all(is_energy)) or (state not in ENERGY and any(is_energy)):
        hint = "write 'P1.mains verified' for a source of energy, 'P1 stopped' for a machine"
        raise ClaimUnclearError(f"{quoted(text)} says '{state}' of the wrong sort of thing", hint)
    return _completed(claim, rest)


def _completed(claim: Claim, rest: str | None) -> Claim:
    text, state = claim.text, claim.state
    needs = {"holds": "materials", "at most": "a volume", "at least": "a volume", "joined to": "a tag or 'nothing'"}
    if (rest is None) == (state in needs):
        wanted = f"name {needs[state]} after '{state}'" if rest is None else f"end it after '{state}'"
        raise ClaimUnclearError(f"{quoted(text)} cannot be read as a claim about the plant", wanted)
    if rest is None:
        return claim
    if state in ("at most", "at least"):
        return Claim(text, claim.subjects, state, quantity=Text(rest, text.span))
    if not re.fullmatch(_LISTED, rest) or (state == "joined to" and not re.fullmatch(_NAME, rest)):
        raise ClaimUnclearError(f"{quoted(text)} cannot be read as a claim about the plant", f"name {needs[state]}")
    if state == "joined to":
        return Claim(text, claim.subjects, state, other=None if rest == NOTHING else Text(rest, text.span))
    return Claim(text, claim.subjects, state, materials=_names(text, rest))


def _names(text: Text, listed: str) -> tuple[Text, ...]:
    return tuple(Text(name, text.span) for name in re.split(", | and ", listed))


def _way_out(text: Text) -> str:
    known = ", ".join((*STATES, *WORN))
    likely = next((found[0] for word in text.split()[1:] if (found := near(word, (*STATES, *WORN)))), None)
    if likely is not None and text.endswith(f" {likely}"):
        return f"write names, then '{likely}', and nothing else: 'V1 and V2 {likely}'"
    return f"did you mean '{likely}'?" if likely else f"write names and one of: {known}"
