"""The lines of facts on the page of a material, a piece of equipment or a recipe."""

from collections.abc import Iterator
from dataclasses import dataclass

from tankside.compute.facts import hold_up, quantity
from tankside.loading.values import Text
from tankside.model.facts import Material, Piece, Plant, Product
from tankside.texts import Words
from tankside.views.numbers import limits_text, other_text, primary_text


@dataclass(frozen=True)
class Fact:
    """A line of facts: what, and what it is."""

    label: str
    text: str


class PlantFacts:
    """Words the facts of one book's plant."""

    def __init__(self, plant: Plant, say: Words) -> None:
        """Speak `say`, with the quantities in the units of the plant first."""
        self.groups = plant.materials.groups
        self.say = say
        self.system = str(plant.facts.units)

    def of_material(self, material: Material) -> tuple[Fact, ...]:
        """Return the facts of a material."""
        found = [
            Fact(self.say("look"), material.look),
            Fact(self.say("density"), primary_text(quantity(material.density), self.system, self.say)),
            Fact(self.say("groups"), ", ".join(self.groups[each].name for each in material.groups)),
            *(Fact(_sentence_case(name), limits_text(each, self.say)) for name, each in material.limits.items()),
        ]
        if material.ph is not None:
            both = self.say("limits-both", low=material.ph.from_, high=material.ph.to)
            found.append(Fact(self.say("ph"), both))
        if material.data_sheet is not None:
            place = str(material.data_sheet_at)
            found.append(Fact(self.say("data-sheet"), self.say("data-sheet-at", date=material.data_sheet, place=place)))
        texts = (
            ("attacks", ", ".join(material.attacks)),
            ("gives-off-gas", self._answer("gives-off-gas", material.gives_off_gas)),
            ("keep", material.keep),
            ("spill", material.spill),
            ("hazardous-waste", self._answer("hazardous-waste", material.hazardous_waste)),
        )
        return (*found, *self._said(texts))

    def of_piece(self, piece: Piece) -> tuple[Fact, ...]:
        """Return the facts of a piece of equipment, but for the pieces, materials and groups that it names."""
        before = (("where", piece.where), ("made-of", piece.made_of), ("label", piece.label))
        after = (
            ("vented", self._answer("vented", piece.vented)),
            ("start-date-on", piece.start_date_on),
            ("route", piece.route),
            ("flushes", piece.flushes and self.say(f"flushes-{piece.flushes.replace(' ', '-')}")),
            ("reach", piece.reach and primary_text(quantity(piece.reach), self.system, self.say)),
            ("inspection-due", piece.inspection_due),
            ("calibration-due", piece.calibration_due),
            ("note", piece.note),
        )
        return (*self._said(before), *self._sizes(piece), *self._said(after))

    def of_product(self, product: Product) -> tuple[Fact, ...]:
        """Return the facts of a product beside its recipe."""
        codes = product.labels.items()
        texts = (
            ("made-in", ", ".join(product.made_in)),
            ("bottles", ", ".join(product.bottles)),
            ("label-codes", "; ".join(self.say("label-code", size=size, code=code) for size, code in codes)),
            ("cap", product.cap),
            ("claim", product.claim),
        )
        return tuple(self._said(texts))

    def _sizes(self, piece: Piece) -> Iterator[Fact]:
        sizes = (
            ("capacity", piece.capacity),
            ("heel", piece.heel),
            ("graduation", piece.graduation),
            ("accuracy", piece.accuracy),
        )
        yield from (Fact(self.say(key), self._both(text)) for key, text in sizes if text)
        full = hold_up(piece)
        if full is not None:
            other = other_text(full, self.system, self.say)
            yield Fact(self.say("hold-up"), f"{primary_text(full, self.system, self.say)} ({other})")
        if piece.range is not None:
            yield Fact(self.say("range"), limits_text(piece.range, self.say))

    def _said(self, texts: tuple[tuple[str, str | None], ...]) -> Iterator[Fact]:
        return (Fact(self.say(key), text) for key, text in texts if text)

    def _answer(self, key: str, answer: Text | None) -> str | None:
        return None if answer is None else self.say(f"{key}-yes") if answer == "yes" else self.say("no")

    def _both(self, text: Text) -> str:
        given = quantity(text)
        other = other_text(given, self.system, self.say)
        first = primary_text(given, self.system, self.say)
        return first if other is None else f"{first} ({other})"


def _sentence_case(name: str) -> str:
    return name[:1].upper() + name[1:].replace("-", " ")
