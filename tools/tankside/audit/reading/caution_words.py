"""What does not belong into a caution: steps, and signal words of another vocabulary. Closed lists of words."""

import re
from collections.abc import Collection, Iterator

from tankside.audit.reading.wording import sentences, words


def _set(words_in_a_row: str) -> frozenset[str]:
    return frozenset(words_in_a_row.split())


#: what is a step wherever it begins a sentence; none of these is a noun or an adjective
_CLEAR = _set(
    "add adjust attach begin calibrate carry connect decant detach disconnect discharge dissolve ensure fetch insert"
    " inspect install isolate loosen notify pour prepare reconnect remove replace tell tighten unclamp unclip unlock"
    " unplug unscrew verify weigh write"
)
#: what is a step when a tag or an object follows: 'Open V2', 'Shut the hatch'
_WITH_OBJECT = _set(
    "ask bring call change check clamp clean clear clip close count cover dip drain drop dry empty fill flush hang hook"
    " label lay lift lock lower make measure mix move open place press pull pump push put raise read record rinse roll"
    " run sample screw seal set shut spin start stir stop switch take tap tare tie top turn vent wash wipe"
)
#: what an object begins with; 'your' is left out, because 'Cover your eyes' is a way to avoid
_OBJECT = _set("the all both each any every this these those")
#: what is turned, moved and covered to get out of the way
_BODY = _set("arm arms back body eyes face fingers hair hand hands head shield sleeves visor")
_LEADS = _set("first next then now slowly gently carefully and")
_PAUSE = re.compile(r"[,;:]\s+")
#: a signal word at the head of a text, set off from what follows
_HEAD = re.compile(r"(?:danger|warning|caution|notice|attention)\s*(?:[:!]|-\s|[\u2013\u2014])", re.IGNORECASE)
#: a signal word in capitals, but for a tag or sign that is called so
_CAPITALS = re.compile(r"\b(?:DANGER|WARNING|CAUTION|NOTICE)\b(?! (?:tags?|signs?|labels?)\b)")
#: a hazard statement of a label by its number
_STATEMENT = re.compile(r"\b(?:H[2-4][0-9]{2}[A-Za-z]*|EUH[0-9]{3})\b")
#: standing as signal word on a label, where GHS has Danger and Warning alone
_NOT_GHS = re.compile(r"(?:^|[.;:,]\s+)(caution|notice|attention)\s*(?:[.!:;,]|$)", re.IGNORECASE)


def steps_in(text: str, tags: Collection[str]) -> Iterator[str]:
    """Return the parts of a text that begin with the verb of a step and what it acts on."""
    for sentence in sentences(text):
        for part in _PAUSE.split(sentence):
            if _is_step(words(part), tags):
                yield part.rstrip(".")


def _is_step(said: tuple[str, ...], tags: Collection[str]) -> bool:
    while said and said[0].lower() in _LEADS:
        said = said[1:]
    verb, follows, after = (*(word.lower() for word in said[:3]), "", "", "")[:3]
    if not follows or follows in ("no", "nobody", "none", "nothing"):
        return False
    is_object = said[1] in tags or (follows in _OBJECT and after not in _BODY)
    return verb in _CLEAR or (verb in _WITH_OBJECT and is_object)


def heading_in(text: str) -> str:
    """Return the signal word that a text begins with as with a heading, "" for none."""
    found = _HEAD.match(text)
    return found[0].strip() if found else ""


def foreign_in_caution(text: str, tags: Collection[str]) -> str:
    """Return what a text of a caution has of a heading or of a label: a signal word, or the number of a statement."""
    numbers = (found for found in _STATEMENT.findall(text) if found not in tags)
    capitals = _CAPITALS.search(text)
    return heading_in(text) or (capitals[0] if capitals else next(numbers, ""))


def foreign_on_label(label: str) -> str:
    """Return the word that stands as signal word on a label and is none of GHS, "" for none."""
    found = _NOT_GHS.search(label)
    return found[1] if found else ""
