"""What a report is: a published procedure whose outcome is a verdict or a chart, and no single formula."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from tankside.quantities.calculation import Calculation
from tankside.quantities.decimal_text import quantity_text
from tankside.quantities.documentation import documentation
from tankside.quantities.domain import kinds_of, require_in_domain, variant_for
from tankside.quantities.evaluate import evaluate
from tankside.quantities.expression import Expression, names_in
from tankside.quantities.given import Given
from tankside.quantities.helper import Argument, Condition, Contract, Result, Variant
from tankside.quantities.working import value_text, working
from tankside.units import UNITS, Quantity, Unit

#: the result that is a verdict
VERDICT: Final = "verdict"


@dataclass(frozen=True)
class Findings:
    """What a report came to, exact."""

    #: result name -> value, in the order worked out
    results: Mapping[str, Quantity]
    #: results that are words
    words: Mapping[str, str]
    #: line by line
    working: tuple[str, ...]
    #: what a drawing shows: a value for each bottle or subgroup, in their order, and the levels they are held against
    points: tuple[Quantity, ...]
    levels: Mapping[str, Quantity]
    #: whose law a verdict is given by: a jurisdiction of a book; empty where there is no verdict
    jurisdiction: str = ""

    def under(self, jurisdiction: str) -> "Findings":
        """Return what they are in a book of that jurisdiction: by the law of another, no lot is released."""
        if jurisdiction == self.jurisdiction:
            return self
        words = {
            **self.words,
            VERDICT: f"{self.words[VERDICT]} (internal control only)",
            "law": f"{self.words['law']}; this book is under the law of the {jurisdiction}",
        }
        return replace(self, words=MappingProxyType(words))


@dataclass(frozen=True)
class Report(Contract):
    """A published procedure."""

    find: Callable[[Given], Findings]


@dataclass
class Sheet:
    """Results with their working, put down one after the other; later ones may use the earlier."""

    known: dict[str, Quantity]
    results: dict[str, Quantity] = field(default_factory=dict)
    lines: list[str] = field(default_factory=list)

    def work(self, name: str, tree: Expression, unit: Unit) -> None:
        """Put down a result that is a formula of what is known."""
        value = evaluate(tree, {each: self.known[each].value for each in names_in(tree)})
        self.lines += working(name, tree, self.known, Quantity(value, unit))
        self._keep(name, Quantity(value, unit))

    def put(self, name: str, words: str, result: Quantity) -> None:
        """Put down a result that ``words`` say the formula of."""
        text, is_exact = value_text(result)
        self.lines += [f"{name} = {words}", f"{'=' if is_exact else '≈'} {text}"]
        self._keep(name, result)

    def note(self, name: str, number: Fraction | int, words: str) -> None:
        """Put down a number that was counted or looked up."""
        result = Quantity(Fraction(number), UNITS[""])
        self.lines.append(f"{name} = {quantity_text(result)}, {words}")
        self._keep(name, result)

    def take(self, name: str, calculation: Calculation) -> None:
        """Put down a result of a helper as it worked it out."""
        self.lines += calculation.working
        self._keep(name, calculation.results[name])

    def holds(self, smaller: str, larger: str) -> bool:
        """Put down whether one is at most the other."""
        sides = [self.known[name] for name in (smaller, larger)]
        outcome = sides[0].value <= sides[1].value
        texts = " ≤ ".join(value_text(each)[0] for each in sides)
        self.lines.append(f"{smaller} ≤ {larger}: {texts} {'holds' if outcome else 'does not hold'}")
        return outcome

    def _keep(self, name: str, result: Quantity) -> None:
        self.results[name] = self.known[name] = result


def report(
    *,
    task: str,
    arguments: tuple[Argument, ...],
    results: tuple[Result, ...],
    variants: tuple[Variant, ...],
    conditions: tuple[Condition, ...] = (),
    choice: str,
) -> Callable[[Callable[[Given], Findings]], Report]:
    """Make a report of a function that works it out from what was given."""

    def make(find: Callable[[Given], Findings]) -> Report:
        text = documentation(find.__doc__ or "")
        return Report(
            find.__name__.replace("_", "-"), task, arguments, results, variants, conditions, choice, text, find
        )

    return make


def findings(report: Report, given: Given) -> Findings:
    """Work ``report`` out; what is missing, of the wrong kind or out of its domain is refused."""
    require_in_domain(report, variant_for(report, kinds_of(report, given)), given)
    return report.find(given)
