"""Standard by standard: what the rules check, what people are only reminded of, and what is out of scope."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tankside.audit.rule import Rule, Source


@dataclass(frozen=True)
class Standard:
    """A published text, and how far this audit goes into it."""

    #: in our own words
    about: str
    #: whose law it is; "" for a standard or guide that anybody may follow
    law: str = ""
    #: what no rule can know, and people have to see to
    reminded: tuple[str, ...] = ()
    out_of_scope: tuple[str, ...] = ()


US = "US"
EU = "EU"
STANDARDS: Mapping[str, Standard] = {
    "21 CFR 211.22": Standard("Who approves procedures, in the making of drugs; good practice here."),
    "21 CFR 211.160": Standard(
        "Calibration of instruments, in the making of drugs; good practice here.",
        "",
        ("That an instrument reads right between two calibrations.",),
    ),
    "29 CFR 1910.119": Standard("Processes with highly hazardous chemicals; good practice here."),
    "29 CFR 1910.132": Standard(
        "Protective equipment: assessment of hazards, certification, training.",
        US,
        ("Whether what is worn fits the person.", "That everybody was trained in it (f)."),
        ("Payment for equipment (h).",),
    ),
    "29 CFR 1910.133": Standard("Eye and face protection.", US, ("Prescription lenses under goggles.",)),
    "29 CFR 1910.134": Standard(
        "Respirators.", US, ("Medical evaluation and fit test.",), ("The content of the written programme.",)
    ),
    "29 CFR 1910.138": Standard("Hand protection.", US, ("Whether a glove is whole.",)),
    "29 CFR 1910.141": Standard("Sanitation: no food where chemicals are.", US, ("Eating and drinking in the room.",)),
    "29 CFR 1910.146": Standard(
        "Permit-required confined spaces.",
        US,
        ("That a tank is signed as a space nobody enters.",),
        ("Entry permits: the book lets nobody in.",),
    ),
    "29 CFR 1910.147": Standard(
        "Control of hazardous energy (lockout).",
        US,
        ("That locks are there, one key each.", "Training of authorised, affected and other people (c)(7)."),
        ("Contractors from outside (f)(2).",),
    ),
    "29 CFR 1910.151": Standard(
        "First aid, eyewash and shower.", US, ("A person trained in first aid.", "The first-aid supplies.")
    ),
    "29 CFR 1910.120": Standard(
        "Emergency response to releases.", US, (), ("Response teams: every large release is for the fire service.",)
    ),
    "29 CFR 1910.38": Standard("Emergency action plan.", US, ("The alarm.", "Who counts people at the meeting point.")),
    "29 CFR 1910.1200": Standard(
        "Hazard communication: labels, data sheets, training.",
        US,
        ("Training at first assignment (h).", "The written programme (e)."),
        ("Classification of mixtures by test.", "Shipped labels of what is sold."),
    ),
    "29 CFR 1910.1000": Standard(
        "Limits of air contaminants.", US, ("Measuring the air.",), ("Medical surveillance.",)
    ),
    "40 CFR 261.22": Standard("Corrosive hazardous waste.", US, ("Whether a waste is listed or toxic.",)),
    "40 CFR 262": Standard("Generators of hazardous waste: containers, dates, papers.", US, ("The papers.",)),
    "40 CFR 264": Standard("Containers of waste and their containment; good practice here.", US),
    "40 CFR 265": Standard("Wastes that must not be mixed.", US),
    "Directive 89/656/EEC": Standard("Protective equipment at work.", EU, ("National law goes further.",)),
    "Regulation (EC) 1272/2008": Standard("Labels of substances and mixtures (CLP).", EU),
    "ANSI Z535.6": Standard("Safety information in manuals: signal words and panels."),
    "ANSI Z358.1": Standard("Eyewash and shower.", "", ("Flow and height of the jets.",)),
    "WAC 296-800-15030": Standard(
        "Eyewash and shower: law in the state of Washington, good practice elsewhere.", "", ("The flow of the water.",)
    ),
    "IEC/IEEE 82079-1": Standard("Instructions for use."),
    "DOE-STD-1029-92": Standard("Writing of technical procedures."),
    "ASD-STE100": Standard("Plain technical English.", "", (), ("Its dictionary of approved words.",)),
    "HSE HSG48": Standard("Human error and procedures."),
    "EPA QA/G-6": Standard("Preparing operating procedures."),
    "EPA-600/2-80-076": Standard("Which groups of chemicals must not meet."),
    "MMWR 1991": Standard("Chlorine from bleach and acid cleaners in two hospitals."),
    "EN ISO 374-1": Standard("Gloves against chemicals.", "", ("The glove maker's own table.",)),
}
#: what this audit has nothing to say about
OUT_OF_SCOPE = (
    "Fire code, building code, electrical code: the local authority and licensed practice.",
    "Transport of dangerous goods.",
    "Noise, lifting, forklifts.",
    "Food, drug and cosmetic law.",
)


@dataclass(frozen=True)
class Checked:
    """A standard with the rules that rest on it."""

    name: str
    standard: Standard
    #: rule -> what it takes from the standard
    rules: tuple[tuple[Rule, Source], ...]
    #: False where the book lives under another law
    is_law_here: bool


def checked(rules: Iterable[Rule], jurisdiction: str) -> tuple[Checked, ...]:
    """Return every standard in alphabetical order, with the rules that rest on it in a book under some law."""
    pairs = [(source.standard, rule, source) for rule in rules for source in rule.sources]
    return tuple(
        Checked(
            name,
            standard,
            tuple((rule, source) for cited, rule, source in pairs if cited == name),
            standard.law == jurisdiction,
        )
        for name, standard in sorted(STANDARDS.items(), key=_in_order)
    )


def _in_order(named: tuple[str, Standard]) -> list[tuple[int, str]]:
    """Return what names are sorted by: numbers in them by their value."""
    return [(int(part), "") if part.isdigit() else (0, part) for part in re.split(r"([0-9]+)", named[0])]


def practices(rules: Iterable[Rule]) -> tuple[tuple[Rule, Source], ...]:
    """Return what rests on common practice alone."""
    return tuple((rule, source) for rule in rules for source in rule.sources if not source.standard)
