"""Materials and equipment as their pages show them."""

from collections.abc import Iterator
from dataclasses import dataclass

from tankside.catalogue import Book
from tankside.compute.facts import quantity
from tankside.edition import Edition, never_with, told_by
from tankside.loading.values import Text
from tankside.model.facts import Exemption, Piece, Product, RecipeLine
from tankside.model.fields import shape
from tankside.texts import Words
from tankside.views.numbers import primary_text
from tankside.views.plant_facts import Fact, PlantFacts
from tankside.views.procedures import first_aid_lines, withheld_words
from tankside.views.steps import Detail

#: the fields of an exemption that say who gave the answers, and when
ANSWERED = ("decided_by", "date")


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
    #: what holds against it, and how long; worn against it or not
    holding: tuple[Fact, ...]
    never_with: tuple[tuple[str, str], ...]
    #: see `HazardView`
    withheld: str
    first_aid: tuple[Detail, ...]
    recipes: tuple[RecipeView, ...]
    used_in: tuple[str, ...]


@dataclass(frozen=True)
class EnergyLines:
    """A source of energy of a machine."""

    source: str
    #: the sort of energy in words; empty when the book does not say
    form: str
    magnitude: str
    isolate_at: str
    release: str
    verify: str


@dataclass(frozen=True)
class ExemptionView:
    """Why a machine has no written lockout procedure."""

    #: each condition as a sentence, and the answer
    answers: tuple[tuple[str, str], ...]
    #: the name of the role
    decided_by: str
    date: str


@dataclass(frozen=True)
class PieceView:
    """All that is shown of a piece of equipment."""

    tag: str
    name: str
    kind: str
    facts: tuple[Fact, ...]
    #: what other pieces are to it, and their tags
    others: tuple[tuple[str, tuple[str, ...]], ...]
    #: material id and name
    holds: tuple[tuple[str, str], ...]
    #: names of the groups that must never come into it
    never_into: tuple[str, ...]
    #: sign, name, what it is made of
    wear: tuple[tuple[str, str, str], ...]
    energy: tuple[EnergyLines, ...]
    exemption: ExemptionView | None
    used_in: tuple[str, ...]


class PlantViews:
    """Makes the views of one book's materials and equipment."""

    def __init__(self, book: Book, editions: tuple[Edition, ...], say: Words) -> None:
        """Show the plant of `book`; `editions` tell which procedures name what."""
        self.book = book
        self.editions = editions
        self.say = say
        self.facts = PlantFacts(book.plant, say)

    def material(self, name: Text) -> MaterialView:
        """Return the view of a material."""
        material = self.book.plant.materials.materials[name]
        products = self.book.plant.products.products.values()
        return MaterialView(
            id=str(name),
            name=str(material.name),
            look=str(material.look),
            is_unconfirmed=material.unconfirmed == "yes",
            signal_word=material.signal_word,
            pictograms=material.pictograms,
            says=tuple(f"{each.says} ({each.code})" for each in material.hazards),
            facts=self.facts.of_material(material),
            wear=self._worn(material.wear),
            holding=tuple(self._holding(name)),
            never_with=tuple(never_with(self.book.plant, name).items()),
            withheld=withheld_words(str(material.name), told_by(self.book.plant, name), self.say),
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
            facts=self.facts.of_piece(piece),
            others=tuple(self._others(piece)),
            holds=tuple((str(each), str(materials[each].name)) for each in piece.holds),
            never_into=tuple(str(self.book.plant.materials.groups[each].name) for each in piece.never_with),
            wear=self._worn(piece.wear),
            energy=tuple(self._energy(piece)),
            exemption=self._exemption(piece.lockout_exemption),
            used_in=tuple(edition.id for edition in self.editions if tag in edition.equipment),
        )

    def _worn(self, names: tuple[Text, ...]) -> tuple[tuple[str, str, str], ...]:
        worn = (self.book.plant.equipment.protective_equipment[each] for each in names)
        return tuple((each.sign, each.name, each.made_of) for each in worn)

    def _holding(self, material: Text) -> Iterator[Fact]:
        system = str(self.book.plant.facts.units)
        for wearable in self.book.plant.equipment.protective_equipment.values():
            for each in wearable.holds_against:
                if each.material == material:
                    yield Fact(str(wearable.name), primary_text(quantity(each.for_), system, self.say))

    def _others(self, piece: Piece) -> Iterator[tuple[str, tuple[str, ...]]]:
        serves = "serves-exhaust" if piece.kind == "exhaust" else "serves"
        for key, tags in (("connects", piece.connects), ("under", piece.under), (serves, piece.serves)):
            if tags:
                yield self.say(key), tuple(map(str, tags))

    def _energy(self, piece: Piece) -> Iterator[EnergyLines]:
        for each in piece.energy_sources:
            form = "" if each.form is None else self.say(f"energy-form-{each.form}")
            yield EnergyLines(each.source, form, each.magnitude, each.isolate_at, each.release, each.verify)

    def _exemption(self, exemption: Exemption | None) -> ExemptionView | None:
        if exemption is None:
            return None
        conditions = (each.name for each in shape(Exemption) if each.name not in ANSWERED)
        return ExemptionView(
            answers=tuple(
                (self.say(f"exemption-{name.replace('_', '-')}"), self.say(getattr(exemption, name)))
                for name in conditions
            ),
            decided_by=str(self.book.plant.roles.roles[exemption.decided_by].name),
            date=str(exemption.date),
        )

    def _recipe(self, product: Product) -> RecipeView:
        materials = self.book.plant.materials.materials
        lines = tuple(
            (str(line.ingredient), str(materials[line.ingredient].name), self._share(line), line.why or "")
            for line in product.recipe
        )
        facts = self.facts.of_product(product)
        return RecipeView(str(product.name), product.illustration == "yes", lines, facts)

    def _share(self, line: RecipeLine) -> str:
        return self.say("share-withheld") if line.is_withheld else str(line.share)
