"""The chain of events of a working copy: each carries the hash of the one before. The page chains alike (``chain.js``).

The first of them carries the hashes of the edition that is followed and of what the page showed of it.

It shows that a file was changed by accident or casually. It does not stop the owner of a device from writing all of it
anew.
"""

from collections.abc import Iterator, Sequence
from hashlib import sha256

from tankside.edition.canonical import canonical_json
from tankside.quantities.portable import Portable

#: the key that holds the hash of an event, which is made of all its other keys
HASH = "hash"


def event_hash(event: Portable) -> str:
    """Return the SHA-256 of an event without its own hash, as canonical JSON in UTF-8."""
    return content_hash({key: each for key, each in event.items() if key != HASH})


def content_hash(value: Portable) -> str:
    """Return the SHA-256 of what was read from a file, an edition or what a page shows, as canonical JSON in UTF-8."""
    # Half of a character, which a keyboard may leave behind, has no bytes: a browser writes it as its escape.
    return sha256(canonical_json(value).encode("utf-8", "backslashreplace")).hexdigest()


def chained(event: Portable, before: Portable | None) -> Portable:
    """Return an event behind another one, with its number, the hash of the one before, and its own.

    Before the first one stands the edition that all of them are about; nothing, where they are about several.
    """
    linked = {
        **event,
        "seq": 0 if before is None else before["seq"] + 1,
        "previous": event.get("edition", "") if before is None else before[HASH],
    }
    return {**linked, HASH: event_hash(linked)}


def broken_links(events: Sequence[Portable]) -> Iterator[tuple[int, str]]:
    """Return the place of each event that is not what was chained there, and what is wrong with it.

    ``number``: it is not the one that comes next; ``previous``: the one before it was another one; ``hash``: it was
    changed itself.
    """
    previous = None
    for place, event in enumerate(events):
        expected = event.get("edition", "") if previous is None else previous
        if event.get("seq") != place:
            yield place, "number"
        if event.get("previous") != expected:
            yield place, "previous"
        if event.get(HASH) != event_hash(event):
            yield place, "hash"
        previous = event.get(HASH)
