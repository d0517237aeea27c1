"""Work with a corrosive before anybody has seen the eyewash run."""

from collections.abc import Iterator, Mapping

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.flushing import EYES, corrosives, first_met, found_in_order, stations
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.loading.values import Text
from tankside.model.claims import read_claim
from tankside.model.facts import Condition
from tankside.plant.judging.faults import listed
from tankside.problems import quoted


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read("29 CFR 1910.151", "(c)", "where eyes may meet injurious corrosives, the water is there for immediate use"),
    read("WAC 296-800-15030", "", "an eyewash functions correctly and its way is free"),
    practice("the eyewash is seen to run before the first corrosive of the day is opened"),
)
def eyewash_not_checked(audited: Audited) -> Iterator[Found]:
    """A procedure in which a corrosive may reach the person asks that the eyewash was seen to run.

    It asks for a condition that means, in a claim, that an eyewash is `in order`, and whose `from` names the
    procedure or section that brings it about. One of the steps there must find it so: a claim that nobody looked at
    proves nothing. Emergency procedures are left out, nothing may stand before them.

    An eyewash that stays dry is noticed when it is too late. Prove it once at the beginning of the day, and ask for
    that under `prerequisites`.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - do: Pour the concentrate off into its drum.
            exposes: [sample-concentrate]

    Passes:
        # procedures/plant/equipment.yaml
        conditions:
          eyewash-clear:
            from: begin
        # procedures/safety/begin.yaml
        steps:
          - check: Both jets of the eyewash are clear and even.
            finds:
              - eyewash-1 in order
        # procedures/filling/example.yaml
        prerequisites: [eyewash-clear]
        steps:
          - do: Pour the concentrate off into its drum.
            exposes: [sample-concentrate]
    """
    proving = frozenset(str(name) for name, each in _conditions(audited).items() if _is_proof(audited, each))
    asked = {str(each.procedure): frozenset(map(str, each.prerequisites)) for each in audited.procedures}
    for met in first_met(audited, corrosives(audited, EYES)):
        if not met.is_emergency and not asked[met.at] & proving:
            reached = f"{listed(sorted(met.materials))} may reach the person at {quoted(met.step.name)}"
            yield Found(
                met.at, met.step.span, f"{reached}, and nothing asks that the eyewash was seen to run", _hint(proving)
            )


def _hint(proving: frozenset[str]) -> str:
    if proving:
        return f"ask for {quoted(min(proving))} under 'prerequisites'"
    return "write a condition 'eyewash-1 in order' whose 'from' names steps that find it so, and ask for it"


def _conditions(audited: Audited) -> Mapping[Text, Condition]:
    return audited.plant.equipment.conditions


def _is_proof(audited: Audited, condition: Condition) -> bool:
    meant = map(read_claim, condition.means)
    tags = {str(tag) for claim in meant if claim.state == "in order" for tag in claim.subjects}
    eyewashes = tags.intersection(map(str, stations(audited, EYES)))
    if condition.from_ is None or not eyewashes:
        return False
    name, _, section = condition.from_.partition("/")
    procedure = next(each for each in audited.procedures if each.procedure == name)
    steps = (each for each in placed(procedure) if not section or (each.section and each.section.section == section))
    return any(found_in_order(each.step) & eyewashes for each in steps)
