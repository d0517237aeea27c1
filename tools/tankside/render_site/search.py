"""The search: an index made now, so that a page on a file:// address needs only a classic script."""

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tankside.catalogue.walking import texts
from tankside.drawing.signs import SIGNS
from tankside.edition import Edition
from tankside.edition.sheets import hanging
from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.facts import Products
from tankside.render_site import addresses
from tankside.render_site.content import Content
from tankside.render_site.lunr_index import index
from tankside.texts import Words
from tankside.views.procedures import ProcedureView
from tankside.views.sheets.listing import sheet_rows
from tankside.views.wording import plain_text

#: the global that the scripts of the site share
GLOBAL = "tankside"
WORD = re.compile(r"\w+(?:[.-]\w+)*")
#: field of a document -> how much a word in it counts
BOOSTS = {"title": 10, "tags": 5, "text": 1}


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
    for view in content.procedures.values():
        yield _of_procedure(content.editions[view.control.id], view, content.site.addresses, say)
    for name, checklist in content.checklists.items():
        titles = " ".join(part.title for part in checklist.parts)
        yield Document(
            addresses.checklist(name), say("checklist"), checklist.control.title, checklist.purpose, "", titles
        )
    for id_, material in content.book.plant.materials.materials.items():
        tags = " ".join((id_, *_codes(content.book.plant.products, id_)))
        yield Document(addresses.material(id_), say("material"), material.name, material.look, tags, _words(material))
    for tag, piece in content.book.plant.equipment.equipment.items():
        yield Document(
            addresses.piece(tag), say("equipment"), f"{tag}: {piece.name}", piece.where or "", tag, _words(piece)
        )
    tags = " ".join(map(str, content.book.plant.equipment.equipment))
    yield Document(addresses.LINE_DIAGRAM, say("equipment"), say("line-diagram"), say("line-diagram-about"), "", tags)
    names = " ".join(row.name for row in content.meeting.rows)
    yield Document(addresses.MEETING, say("materials"), say("meeting"), say("meeting-about"), "", names)
    names = " ".join(f"{sign.code} {sign.name}" for sign in SIGNS.values())
    yield Document(addresses.SIGNS, say("signs"), say("signs"), say("signs-ours"), "", names)
    rows = sheet_rows(hanging(content.sheets.values()), content.book.plant, say)
    titles = " ".join(f"{row.id} {row.title}" for row in rows)
    yield Document(addresses.SHEETS, say("sheets"), say("sheets"), say("sheets-about"), "", titles)
    if content.paths:
        titles = " ".join(path.title for path in content.paths.values())
        yield Document(addresses.TRAINING, say("train"), say("train"), say("train-about"), "", titles)
    yield Document(addresses.ASSESSMENTS, say("audit"), say("assessments"), say("assessments-about"), "", "")
    for chart in content.charts:
        yield Document(addresses.chart(chart.id), say("charts"), chart.title, chart.about, "", "")


@remembered
def _of_procedure(edition: Edition, view: ProcedureView, at: Mapping[str, str], say: Words) -> Document:
    """Return a procedure as a document: its own words, and the names of what it uses, each of which has its page."""
    used = (edition.equipment, edition.materials, edition.wear)
    names = " ".join(each.name for group in used for each in group.values())
    return Document(
        address=at[view.control.id],
        kind=say("emergency") if view.is_emergency else say("procedure"),
        title=view.control.title,
        about=plain_text(view.purpose),
        tags=" ".join((*edition.equipment, *(each.name for each in edition.equipment.values()))),
        text=f"{_words(edition.written)} {names}",
    )


def _codes(products: Products, material: Text) -> Iterator[str]:
    """Return the codes on the labels of a material: somebody holds a label, and looks for what it belongs to."""
    for product in products.products.values():
        if product.material == material:
            yield from product.labels.values()


def _words(part: object) -> str:
    """Return the distinct words of a part of the book; how often a word stands there decides nothing."""
    found: dict[str, None] = {}
    for text, _ in texts(part):
        found.update(dict.fromkeys(word.lower() for word in WORD.findall(text)))
    return " ".join(found)


def index_script(content: Content) -> str:
    """Return a classic script that sets the index and the list of what can be found."""
    found = tuple(documents(content))
    packed = {
        "documents": [[each.address, each.kind, each.title, each.about] for each in found],
        "index": index([{field: getattr(each, field) for field in BOOSTS} for each in found], BOOSTS),
    }
    text = json.dumps(packed, separators=(",", ":"), sort_keys=True, ensure_ascii=False)
    return f"'use strict';\nvar {GLOBAL} = Object.assign(window.{GLOBAL} || {{}}, {text});\n"
