"""Closed lists of words that lockout procedures are read by, where claims do not say it."""

import re
from re import Pattern

from tankside.audit.reading.wording import texts_of
from tankside.model.steps import Step


def _any_of(*words: str) -> Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(words)})\b", re.IGNORECASE)


#: the person looks whether the sources are those that are listed
SOURCES = _any_of("energy sources?", "sources? of energy", "energies")
#: what is done to a point of isolation that is no valve
ISOLATING = re.compile(
    r"\bpull\b[^.]*\bplugs?\b|\b(?:unplug|disconnect|isolate)\b|\b(?:turn|switch|set|put)\b[^.]*\boff\b", re.IGNORECASE
)
TAG = _any_of("tags?", "tagged", "label(?:s|led)?")
LOCK = _any_of("(?:pad)?locks?", "locked")
#: the start is tried: a verb, then what starts the machine, and no stop between
TRY = re.compile(
    r"\b(?:press|push|pull|try|operate|squeeze|turn)\b(?:(?!\bstops?\b)[^.])*?\b(?:start|starter|trigger|controls?)\b",
    re.IGNORECASE,
)
#: what is seen after a try, when all is well
STILL = re.compile(
    r"\b(?:nothing|neither|none|no \w+)\b[^.]*\b(?:mov|turn|hum|lit|lights?|runs?|ran|start|happen|stir)\w*"
    r"|\b(?:does|did|do) not (?:mov|turn|hum|run|start|stir)\w*"
    r"|\bst(?:ands?|ays?|ood) still\b|\bno (?:movement|motion)\b",
    re.IGNORECASE,
)
#: the control goes back to off after the try
OFF = _any_of("stops?", "off", "let(?:ting)? (?:it|them|the triggers?) go", "neutral")
KEY = _any_of("keys?")
#: where a key is kept so that nobody else has it
KEPT = _any_of("pockets?", "keep", "keeps", "kept", "with you", "on you", "belt", "neck", "nobody else")
#: a hold says again that the start was tried
TRIED = _any_of("tried", "try", "start(?:s|ed)?", "mov(?:e|es|ed)", "turn(?:s|ed)?")
#: a hold says again that there is no pressure
RELIEVED = _any_of("pressure", "gauge", "zero", "0", "depressuri[sz]ed")
TOOLS = _any_of("tools?", "nothing (?:is )?left", "loose (?:things|parts|items)", "not belong")
#: the machine is whole again
WHOLE = _any_of(
    "guards?",
    "covers?",
    "parts?",
    "joints?",
    "couplings?",
    "components?",
    "hatch",
    "clamps?",
    "closed",
    "whole",
    "complete",
)
PEOPLE = _any_of("everybody", "everyone", "nobody", "no one", "people", "persons?")
CLEAR = _any_of("clear", "behind", "away", "back", "out of", "near", "at a distance", "outside")
#: the lock comes off by the hand that put it on
OWN_LOCK = _any_of("who (?:has )?(?:put|locked|hung|fitted|placed|set|applied)", "own", "whose")
SHIFT = _any_of("shifts?", "takes? over", "relie(?:f|ves?|ved)", "personnel", "hand(?:s|ed)? over")
SEVERAL = _any_of(
    "(?:more than one|several|two|three|a second|another) (?:authori[sz]ed )?(?:persons?|people|workers?)",
    "more (?:persons?|people|workers?)",
    "(?:everybody|everyone|each (?:person|worker|one)) who works",
)
#: instead of a rule for several: there are never several
ONE_ONLY = _any_of("only one person", "one person only", "never more than one person", "one person at a time")
OWN = _any_of("own")


def says(step: Step, *words: Pattern[str]) -> bool:
    """Return whether the sentences of a step have a word of each list."""
    text = " ".join(texts_of(step))
    return all(each.search(text) for each in words)


def names(step: Step, tag: str) -> bool:
    """Return whether the sentences of a step name a tag."""
    return re.search(rf"(?<![\w-]){re.escape(tag)}(?![\w-])", " ".join(texts_of(step))) is not None
