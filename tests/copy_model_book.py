"""What a reference model of a working copy reads in an edition's JSON: steps, sections, ways on, labels, bounds."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Any

from tankside.quantities.evaluate import evaluate
from tankside.quantities.expression import from_json
from tankside.units import Kind, Quantity, QuantityError, parse_quantity

#: kinds of items that nobody does
TEXTS = ("section", "danger", "warning", "caution", "notice", "note")
#: lowest and highest value in base units, None where it is open
Bounds = tuple[Fraction | None, Fraction | None]


@dataclass(frozen=True)
class PartOfBook:
    """A procedure that is followed, or one section of it."""

    edition: Any
    program: Any
    only: str

    @cached_property
    def places(self) -> dict[str, tuple[Any, str]]:
        """Each step by its name, with the section in which it stands."""
        found, section = {}, ""
        for item in self.edition["written"]["steps"]:
            section = item.get("section", section)
            found.update({step["name"]: (step, section) for step in _steps([item])})
        return found

    @cached_property
    def sent_only(self) -> set[str]:
        """The sections that going on never leads to; one that is followed for itself is none."""
        found = {each["section"] for each in self.edition["written"]["steps"] if "entered" in each}
        return found - {self.only}

    def node(self, place: int) -> Any:
        """Return what stands at a place of the program."""
        return self.program["nodes"][place]

    def kind(self, place: int) -> str:
        """Return the kind of step at a place of the program."""
        node = self.node(place)
        return "question" if node.get("asks") else str(self.places[node["step"]][0]["kind"])


def _steps(items: list[Any]) -> Iterator[Any]:
    for item in items:
        if item["kind"] not in TEXTS:
            yield item
        yield from _steps(item.get("steps", []))
        for branch in item.get("branches", []):
            yield from _steps(branch["steps"])


class BookOfModel:
    """An edition, as a model asks it."""

    def __init__(self, edition: Any) -> None:
        self.written = edition["written"]
        whole = [{"edition": edition, "program": edition.get("program")}]
        parts = whole if "procedure" in self.written else edition["parts"]
        self.parts = [PartOfBook(each["edition"], each["program"], each.get("section", "")) for each in parts]
        self.is_by_heart = self.written.get("followed") == "do then check"

    @cached_property
    def kinds(self) -> set[str]:
        """The kinds of steps that the way may lead to."""
        return {part.kind(place) for part in self.parts for place in range(len(part.program["nodes"]))}

    @cached_property
    def is_for_two(self) -> bool:
        """Whether somebody else must be in the room."""
        return any(part.edition["written"]["second_person"] == "in the room" for part in self.parts)

    @cached_property
    def bottles(self) -> set[str]:
        """The bottles that there are labels for."""
        return {size for part in self.parts for product in part.edition["labels"].values() for size in product["codes"]}

    def questions(self) -> Iterator[tuple[str, str, Any]]:
        """Return what must be chosen before the start: procedure, name, range."""
        for part in self.parts:
            written = part.edition["written"]
            for name, asked in written["inputs"].items():
                yield written["procedure"], name, asked

    def label(self, part: PartOfBook, step: Any, bottle: str) -> str:
        """Return what must be read on the label before something is taken; empty where there is no label."""
        if step["kind"] == "labels" and step["counted"] == "out":
            return str(part.edition["labels"][step["product"]]["codes"].get(bottle, ""))
        if step["kind"] != "add":
            return ""
        comes_from = part.edition["equipment"].get(step.get("from"), {"kind": "by hand"})
        return "" if comes_from["kind"] == "supply" else str(step["material"])

    def bounds(self, part: PartOfBook, step: Any, inputs: Any) -> Bounds:
        """Return between what an amount must lie when all is put in, or a reading."""
        if step["kind"] == "measure":
            low, high = (part.edition["limits"][step["limits"]].get(end) for end in ("from", "to"))
            return None if low is None else parse_quantity(low).value, None if high is None else parse_quantity(
                high
            ).value
        amount = part.edition["amounts"][step["amount"][1:-1]]
        chosen = inputs.get(part.edition["written"]["procedure"], {})
        wanted = evaluate(
            from_json(amount["tree"]), {name: parse_quantity(text).value for name, text in chosen.items()}
        )
        off = Fraction(amount["tolerance"]["value"])
        return max(wanted - off, Fraction(0)), wanted + off

    def sort(self, part: PartOfBook, step: Any) -> Kind:
        """Return the kind of unit in which a value of a step is given."""
        if step["kind"] == "measure":
            return parse_quantity(next(iter(part.edition["limits"][step["limits"]].values()))).unit.kind
        return parse_quantity(part.edition["amounts"][step["amount"][1:-1]]["usual"]["shown"]["text"]).unit.kind


def quantity(event: Any) -> Quantity | None:
    """Return what somebody entered, None when it is no number with a unit."""
    try:
        return parse_quantity(f"{event.get('value', '')} {event.get('unit', '')}")
    except QuantityError:
        return None


def is_within(value: Fraction, bounds: Bounds) -> bool:
    """Return whether a value lies between its bounds, which belong to it."""
    low, high = bounds
    return (low is None or value >= low) and (high is None or value <= high)
