"""Materials and equipment as their pages show them."""

from dataclasses import dataclass

from tankside.catalogue import Book
from tankside.compute.facts import hold_up, quantity
from tankside.edition import Edition, never_with
from tankside.loading.values import Text
from tankside.model.facts import Material, Piece, Product
from tankside.texts import Words
from tankside.views.numbers import limits_text, other_text, primary_text
from tankside.views.procedures import first_aid_lines
from tankside.views.steps import Detail


@dataclass(frozen=True)
class Fact:
    """A line of facts: what, and what it is."""

    label: str
    text: str


@dataclass(frozen=True)
class RecipeView:
    """A recipe, in adding order."""

    title: str
    is_illustration: bool
    #: ingredient id, name, share, why
    lines: tuple[tuple[str, str, str, str], ...]
    facts: tuple[Fact, ...]


@dataclass(frozen=True)
class MaterialView:
    """All that is shown of a material."""

    id: str
    name: str
    look: str
    is_unconfirmed: bool
    signal_word: str | None
    pictograms: tuple[str, ...]
    says: tuple[str, ...]
    facts: tuple[Fact, ...]
    #: sign, name, what it is made of
    wear: tuple[tuple[str, str, str], ...]
    never_with: tuple[tuple[str, str], ...]
    first_aid: tuple[Detail, ...]
    recipes: tuple[RecipeView, ...]
    used_in: tuple[str, ...]


@dataclass(frozen=True)
class PieceView:
    """All that is shown of a piece of equipment."""

    tag: str
    name: str
    kind: str
    facts: tuple[Fact, ...]
    connects: tuple[str, ...]
    #: material id and name
    holds: tuple[tuple[str, str], ...]
    #: source, magnitude, isolated at, how let go, how proved
    energy: tuple[tuple[str, str, str, str, str], ...]
    used_in: tuple[str, ...]


class PlantViews:
    """Makes the views of one book's materials and equipment."""

    def __init__(self, book: Book, editions: tuple[Edition, ...], say: Words) -> None:
        """Show the plant of `book`; `editions` tell which procedures name what."""
        self.book = book
        self.editions = editions
        self.say = say
        self.system = str(book.plant.facts.units)

    def material(self, name: Text) -> MaterialView:
        """Return the view of a material."""
        material = self.book.plant.materials.materials[name]
        worn = [self.book.plant.equipment.protective_equipment[each] for each in material.wear]
        products = self.book.plant.products.products.values()
        return MaterialView(
            id=str(name),
            name=str(material.name),
            look=str(material.look),
            is_unconfirmed=material.unconfirmed == "yes",
            signal_word=material.signal_word,
            pictograms=material.pictograms,
            says=tuple(f"{each.says} ({each.code})" for each in material.hazards),
            facts=tuple(self._material_facts(material)),
            wear=tuple((each.sign, each.name, each.made_of) for each in worn),
            never_with=tuple(never_with(self.book.plant, name).items()),
            first_aid=first_aid_lines(material.first_aid, self.say),
            recipes=tuple(self._recipe(product) for product in products if product.material == name),
            used_in=tuple(edition.id for edition in self.editions if name in edition.materials),
        )

    def piece(self, tag: Text) -> PieceView:
        """Return the view of a piece of equipment."""
        piece = self.book.plant.equipment.equipment[tag]
        materials = self.book.plant.materials.materials
        return PieceView(
            tag=str(tag),
            name=str(piece.name),
            kind=str(piece.kind),
            facts=tuple(self._piece_facts(piece)),
            connects=tuple(map(str, piece.connects)),
            holds=tuple((str(each), str(materials[each].name)) for each in piece.holds),
            energy=tuple(
                (each.source, each.magnitude, each.isolate_at, each.release, each.verify)
                for each in piece.energy_sources
            ),
            used_in=tuple(edition.id for edition in self.editions if tag in edition.equipment),
        )

    def _material_facts(self, material: Material) -> list[Fact]:
        groups = ", ".join(self.book.plant.materials.groups[each].name for each in material.groups)
        facts = [
            Fact(self.say("look"), material.look),
            Fact(self.say("density"), primary_text(quantity(material.density), self.system, self.say)),
            Fact(self.say("groups"), groups),
        ]
        facts += [Fact(_sentence_case(name), limits_text(each, self.say)) for name, each in material.limits.items()]
        if material.data_sheet is not None:
            place = str(material.data_sheet_at)
            facts.append(Fact(self.say("data-sheet"), self.say("data-sheet-at", date=material.data_sheet, place=place)))
        facts += [
            Fact(self.say(key), text) for key, text in (("keep", material.keep), ("spill", material.spill)) if text
        ]
        return facts

    def _recipe(self, product: Product) -> RecipeView:
        materials = self.book.plant.materials.materials
        lines = tuple(
            (str(line.ingredient), str(materials[line.ingredient].name), str(line.share), line.why or "")
            for line in product.recipe
        )
        facts = [
            Fact(self.say("made-in"), ", ".join(product.made_in)),
            Fact(self.say("bottles"), ", ".join(product.bottles)),
            Fact(self.say("cap"), product.cap),
        ]
        if product.claim is not None:
            facts.append(Fact(self.say("claim"), product.claim))
        return RecipeView(str(product.name), product.illustration == "yes", lines, tuple(facts))

    def _piece_facts(self, piece: Piece) -> list[Fact]:
        texts = (("where", piece.where), ("made-of", piece.made_of))
        facts = [Fact(self.say(key), text) for key, text in texts if text]
        sizes = (
            ("capacity", piece.capacity),
            ("heel", piece.heel),
            ("graduation", piece.graduation),
            ("accuracy", piece.accuracy),
        )
        facts += [Fact(self.say(key), self._both(text)) for key, text in sizes if text]
        full = hold_up(piece)
        if full is not None:
            other = other_text(full, self.system, self.say)
            facts.append(Fact(self.say("hold-up"), f"{primary_text(full, self.system, self.say)} ({other})"))
        if piece.range is not None:
            facts.append(Fact(self.say("range"), limits_text(piece.range, self.say)))
        last = (("calibration-due", piece.calibration_due), ("note", piece.note))
        return facts + [Fact(self.say(key), text) for key, text in last if text]

    def _both(self, text: Text) -> str:
        given = quantity(text)
        other = other_text(given, self.system, self.say)
        first = primary_text(given, self.system, self.say)
        return first if other is None else f"{first} ({other})"


def _sentence_case(name: str) -> str:
    return name[:1].upper() + name[1:].replace("-", " ")
