"""What is against the rules of entries: the page refuses it before, so what is found in a file was changed there.

The page refuses alike (``training-entries.js``).
"""

from collections.abc import Iterator
from dataclasses import dataclass

from tankside.model.training import ALONE, READ
from tankside.quantities.portable import Portable
from tankside.training.competence import is_same
from tankside.training.standing import COMPETENT, NEEDS_MORE, NOT_SEEN, WATCHED
from tankside.training.taught import Taught

#: kinds that somebody else stands for
ATTESTED = ("signed", "drill", "went", "appointed")
#: the key of the safe stop, and what stands before the name of a step
STOP, STEP = "stop", "step:"


@dataclass(frozen=True)
class Against:
    """Something that is against a rule, or that a reader should know."""

    code: str
    #: what the event does
    does: str
    hint: str


def against(event: Portable, taught: Taught | None) -> Iterator[Against]:
    """Return what is against the rules in an event; `taught` is what it is about, None when about none."""
    if event["kind"] in ATTESTED:
        yield from _own_word(event)
    if taught is not None:
        yield from _another(event, taught)
    if event["kind"] == "signed" and event["result"] == COMPETENT:
        yield from _competent(event, taught)


def unseen(event: Portable) -> tuple[str, ...]:
    """Return the keys of what an event that says competent did not see."""
    if event["kind"] != "signed" or event["result"] != COMPETENT:
        return ()
    return tuple(key for key, result in event.get("seen", {}).items() if result == NOT_SEEN)


def key_in_words(key: str) -> str:
    """Return the key of something that is watched, as people say it."""
    return f"step '{key.removeprefix(STEP)}'" if key.startswith(STEP) else "stopping safely"


def _own_word(event: Portable) -> Iterator[Against]:
    is_read = event["kind"] == "signed" and event["method"] == READ
    if not is_read and is_same(event["assessor"], event["person"]):
        does = f"was attested by {event['assessor'].strip()}, whose own competence it is"
        yield Against("competence-self-assessed", does, "nobody assesses themselves; have somebody else look at it")


def _another(event: Portable, taught: Taught) -> Iterator[Against]:
    own = (event["procedure"], event["revision"], event["edition"])
    if own != (taught.procedure, taught.revision, taught.content):
        does = f"is about '{event['procedure']}', revision {event['revision']}; what it names was taught of"
        does = f"{does} '{taught.procedure}', revision {taught.revision}"
        yield Against("competence-taught-differs", does, "no page enters it so; ask who entered it, and enter it again")


def _competent(event: Portable, taught: Taught | None) -> Iterator[Against]:
    seen = event.get("seen", {})
    wanting = [key for key, result in seen.items() if result == NEEDS_MORE]
    if event["method"] not in WATCHED:
        does = f"says competent of who was not watched: {'only read it' if event['method'] == READ else 'shown'}"
        yield Against(
            "competence-unwatched", does, "who has read or was shown it is not competent yet; watch them do it"
        )
    elif wanting:
        does = f"says competent, and needs more at {', '.join(map(key_in_words, wanting))}"
        yield Against("competence-needs-more", does, "one of the two is wrong; watch it again")
    elif event["method"] == ALONE and taught is not None:
        yield from _not_looked_at(seen, taught)


def _not_looked_at(seen: Portable, taught: Taught) -> Iterator[Against]:
    steps = [each.key for each in taught.elements if each.is_critical and each.key.startswith(STEP)]
    missing = [STOP] if seen.get(STOP) != COMPETENT else []
    missing += [key for key in steps if seen.get(key) not in (COMPETENT, NOT_SEEN)]
    if steps and not missing and COMPETENT not in map(seen.get, steps):
        missing = steps
    if missing:
        does = f"says competent alone, and nobody looked at {', '.join(map(key_in_words, missing))}"
        yield Against("competence-not-looked-at", does, "watch what is missing, and enter it again")
