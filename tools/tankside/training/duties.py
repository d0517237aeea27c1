"""Duties of the law to train people: what each asks, in words of our own, and what was read of it."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Duty:
    """A duty to train somebody."""

    #: what a path names it by, under `covers`
    code: str
    #: where it stands
    clause: str
    asks: str
    #: what was seen of its text
    seen: str


_MEMORY = (
    "from memory; of the text only the division into authorised, affected and other employees was read, in a summary"
)
_REPRODUCED = "read in a reproduction of its text by somebody else, not at its publisher"

DUTIES = (
    Duty(
        "lockout-authorised",
        "29 CFR 1910.147(c)(7)(i)(A)",
        "Who puts on locks recognises the hazardous energy, knows of which kind and how much there is, and by which "
        "means it is isolated and controlled.",
        _MEMORY,
    ),
    Duty(
        "lockout-affected",
        "29 CFR 1910.147(c)(7)(i)(B)",
        "Who works a machine that is locked, or works beside it, knows what the procedure is for and how it is used.",
        _MEMORY,
    ),
    Duty(
        "lockout-other",
        "29 CFR 1910.147(c)(7)(i)(C)",
        "Everybody else who may come near knows of the procedure, and that nothing that is locked may be started.",
        _MEMORY,
    ),
    Duty(
        "chemicals-at-first",
        "29 CFR 1910.1200(h)",
        "At the first assignment, and whenever a hazard comes that was not taught before: how one notices that "
        "something got out, what it does, how one protects oneself, and how labels and data sheets are read.",
        _REPRODUCED,
    ),
    Duty(
        "protective-equipment",
        "29 CFR 1910.132(f)",
        "When something is worn, and what; how it is put on, adjusted, worn and taken off; what it does not hold "
        "against; how it is cared for, how long it lasts and where it goes. It is shown before work that needs it.",
        _REPRODUCED,
    ),
)
#: the duty that comes again with each new hazard, and how the elements begin that say one
CHEMICALS, HAZARD = "chemicals-at-first", "hazard:"
