"""The search: an index made now, so that a page on a file:// address needs only a classic script."""

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass

from lunr import lunr

from tankside.catalogue.walking import texts
from tankside.render_site import addresses
from tankside.render_site.content import Content
from tankside.views.wording import plain_text

#: the global that the scripts of the site share
GLOBAL = "tankside"
WORD = re.compile(r"\w+(?:[.-]\w+)*")
FIELDS = ({"field_name": "title", "boost": 10}, {"field_name": "tags", "boost": 5}, {"field_name": "text", "boost": 1})


@dataclass(frozen=True)
class Document:
    """Something that can be found."""

    address: str
    #: what it is: procedure, checklist, material, equipment, emergency
    kind: str
    title: str
    about: str
    tags: str
    text: str


def documents(content: Content) -> Iterator[Document]:
    """Return everything that can be found."""
    say = content.say
    for name, view in content.procedures.items():
        edition = content.editions[name]
        kind = say("emergency") if view.is_emergency else say("procedure")
        tags = " ".join((*edition.equipment, *(each.name for each in edition.equipment.values())))
        yield Document(
            content.addresses[name], kind, view.control.title, plain_text(view.purpose), tags, _words(edition)
        )
    for name, checklist in content.checklists.items():
        titles = " ".join(part.title for part in checklist.parts)
        yield Document(
            addresses.checklist(name), say("checklist"), checklist.control.title, checklist.purpose, "", titles
        )
    for id_, material in content.book.materials.materials.items():
        yield Document(addresses.material(id_), say("material"), material.name, material.look, id_, _words(material))
    for tag, piece in content.book.equipment.equipment.items():
        yield Document(
            addresses.piece(tag), say("equipment"), f"{tag}: {piece.name}", piece.where or "", tag, _words(piece)
        )


def _words(part: object) -> str:
    """Return the distinct words of a part of the book; how often a word stands there decides nothing."""
    found: dict[str, None] = {}
    for text, _ in texts(part):
        found.update(dict.fromkeys(word.lower() for word in WORD.findall(text)))
    return " ".join(found)


def index_script(content: Content) -> str:
    """Return a classic script that sets the index and the list of what can be found."""
    found = [
        {"ref": str(number), "title": each.title, "tags": each.tags, "text": each.text}
        for number, each in enumerate(documents(content))
    ]
    index = lunr(ref="ref", fields=FIELDS, documents=found).serialize()
    shown = [[each.address, each.kind, each.title, each.about] for each in documents(content)]
    packed = json.dumps({"index": index, "documents": shown}, separators=(",", ":"), sort_keys=True, ensure_ascii=False)
    return f"'use strict';\nvar {GLOBAL} = {packed};\n"
