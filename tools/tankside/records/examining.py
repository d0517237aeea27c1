"""All that is found in one record: its shape, its edition, its chain, and each event judged again."""

from collections.abc import Iterator
from dataclasses import replace

from tankside.problems import Problem, quoted
from tankside.quantities.portable import Portable
from tankside.records.chain import content_hash
from tankside.records.document import Document
from tankside.records.following import LAYOUTS, NotFollowedError, script_of
from tankside.records.judging import judged
from tankside.records.linking import Chain, chain_of, usual
from tankside.records.record import Record
from tankside.records.remarks import remarks
from tankside.records.script import Script
from tankside.records.shape import Misfit, misfits
from tankside.schema.records import EVENTS

#: digits of a hash that people compare
SHORT = 8
_DECIDES = "the events decide, they are chained; save the record from the device again"
_EDITION = "nothing was judged: what was asked of whom is known from an edition only; look for another copy of the file"
_VERSION = "nothing was judged; read it with the version of tankside that made it, or a newer one"


class Examiner:
    """Examines records one after the other; what several follow is read once."""

    def __init__(self) -> None:
        """Begin with nothing read."""
        self._scripts: dict[str, Script] = {}

    def examine(self, document: Document) -> tuple[Record | None, list[Problem]]:
        """Return a record and what is wrong with it; none when not even its start can be told."""
        wrong = list(misfits(document))
        problems = [each.problem for each in wrong]
        shaped = _shaped(document, wrong)
        if shaped is None:
            return None, problems
        hash_ = usual(shaped.value[EVENTS], "edition")
        about = list(_about_edition(shaped, hash_))
        chain = chain_of(shaped)
        problems += [*about, *chain.problems, *_about_copy(shaped)]
        if about:
            return None, problems
        try:
            script = self._script(hash_, shaped.value["edition"])
        except NotFollowedError as error:
            return None, [*problems, _not_followed(shaped, error)]
        problems += [*_about_book(shaped), *_about_shown(shaped)]
        return self._record(document, shaped, script, chain, problems)

    def _record(
        self, document: Document, shaped: Document, script: Script, chain: Chain, problems: list[Problem]
    ) -> tuple[Record | None, list[Problem]]:
        found = judged(shaped, script, chain.sound)
        problems += found.problems
        if not found.entries:
            return None, problems
        cut = len(document.value[EVENTS]) - len(shaped.value[EVENTS])
        is_whole = not cut and len(found.entries) == chain.count
        return Record(document, found, tuple(remarks(document, found, is_whole=is_whole)), is_whole), problems

    def _script(self, hash_: str, edition: Portable) -> Script:
        if hash_ not in self._scripts:
            self._scripts[hash_] = script_of(edition)
        return self._scripts[hash_]


def _shaped(document: Document, wrong: list[Misfit]) -> Document | None:
    """Return a record up to the first event that has not the shape of one; none when nothing can be made of it."""
    value = document.value
    events = value.get(EVENTS) if isinstance(value, dict) else None
    if not isinstance(events, list) or not isinstance(value.get("edition"), dict):
        return None
    count = min((each.event for each in wrong if each.event is not None), default=len(events))
    return replace(document, value={**value, EVENTS: events[:count]}) if count else None


def _about_edition(document: Document, hash_: str) -> Iterator[Problem]:
    """Return why nothing can be judged by the edition in a file."""
    edition = document.value["edition"]
    layout, own = edition.get("layout"), content_hash(edition)
    if own != hash_:
        message = f"the events follow edition {hash_[:SHORT]}, and the one in this file is {own[:SHORT]}"
        yield document.error("record-edition-differs", message, _EDITION, "edition")
    elif layout not in LAYOUTS:
        message = f"this version cannot follow an edition of the layout {quoted(layout)}"
        yield document.error("record-edition-layout", message, _VERSION, "edition", "layout")


def _about_copy(document: Document) -> Iterator[Problem]:
    value = document.value
    copy = usual(value[EVENTS], "copy")
    if value.get("copy") != copy:
        message = f"the file names the working copy {quoted(value.get('copy'))}, its events belong to '{copy}'"
        yield document.error("record-copy-differs", message, _DECIDES, "copy")


def _about_book(document: Document) -> Iterator[Problem]:
    value = document.value
    if value.get("book") != value["edition"]["book"]:
        message = f"the file names the book {quoted(value.get('book'))}, its edition is of '{value['edition']['book']}'"
        yield document.error("record-book-differs", message, _DECIDES, "book")


def _about_shown(document: Document) -> Iterator[Problem]:
    shown, named = document.value.get("shown"), document.value[EVENTS][0].get("shown")
    if isinstance(shown, dict) and isinstance(named, str) and content_hash(shown) != named:
        message = "what a page would show of it is not what it showed when the work was begun"
        hint = "nothing here was read from it; no page takes this file in; look for another copy of it"
        yield document.error("record-shown-differs", message, hint, "shown")


def _not_followed(document: Document, error: NotFollowedError) -> Problem:
    message = f"the edition in this file cannot be followed: {error}"
    return document.error("record-not-followed", message, f"edition and events were rewritten; {_EDITION}", "edition")
