"""Equipment that two materials share and must not."""

from collections.abc import Iterator, Mapping
from itertools import product

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.loading.values import Text
from tankside.plant.everywhere import arrivals, lent_ends, shared_parts
from tankside.plant.reactivity import Never
from tankside.problems import Span, quoted


@rule(
    Family.SUBSTANCES,
    Weight.MUST,
    read("MMWR 1991", "", "bleach on a floor that had been rinsed after an acid cleaner still gave off chlorine"),
    read("40 CFR 265", "App. V", "acid and alkali give heat, violent reaction; it is a list of what is kept apart"),
)
def separate_equipment(audited: Audited) -> Iterator[Found]:
    """Materials that must never meet have vessels, lines, pails and hoses of their own.

    Looked at are each piece with all that it is meant for and all that any dry run brings into it, each loose end with
    the pieces that it fits, and each fixed joint between two pieces. No rinse in between makes one piece safe for
    both: what is left in a dead end is enough, and a shut valve is opened some day.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          bleach:
            name: Bleach
            kind: raw
            look: Yellow-green.
            density: 1.1 kg/L
            groups: [bleaches]
        # procedures/plant/equipment.yaml
        equipment:
          tank-60:
            holds: [water, sample-concentrate, sample-cleaner, rinse-water, bleach]

    Passes:
        # procedures/plant/materials.yaml
        materials:
          bleach:
            name: Bleach
            kind: raw
            look: Yellow-green.
            density: 1.1 kg/L
            groups: [bleaches]
        # procedures/plant/equipment.yaml
        equipment:
          bleach-can:
            kind: drum
            name: Bleach can
            holds: [bleach]
        # procedures/filling/example.yaml
        needs: [bleach-can]
    """
    setting, tags = audited.rehearsal.setting, _tags(audited)
    come = arrivals(audited.rehearsal.all())
    for problem in (*shared_parts(setting, come), *lent_ends(setting)):
        yield Found(tags[problem.span], problem.span, problem.message, problem.hint)
    yield from _joined(audited)


def _tags(audited: Audited) -> Mapping[Span, str]:
    """Return which piece of equipment stands at a place where a shared part is reported."""
    found: dict[Span, str] = {}
    for tag, piece in audited.plant.equipment.equipment.items():
        found |= {each.span: str(tag) for each in (tag, *piece.holds, *piece.joins)}
    return found


def _joined(audited: Audited) -> Iterator[Found]:
    equipment = audited.plant.equipment.equipment
    for tag, piece in equipment.items():
        for other in piece.connects:
            pair = _apart(audited, piece.holds, equipment[other].holds)
            if pair is not None:
                message = f"{quoted(tag)} for {quoted(pair[0])} is joined to {quoted(other)} for {quoted(pair[1])}"
                yield Found(str(tag), other.span, message, "part the two for good; a shut valve does not part them")


def _apart(audited: Audited, mine: tuple[Text, ...], theirs: tuple[Text, ...]) -> tuple[Text, Text] | None:
    """Return the first two materials that need equipment of their own, unless one of the two pieces has both."""
    judge = audited.rehearsal.setting.reactivity.judge
    for one, other in product(mine, theirs):
        verdict = judge(one, other)
        if isinstance(verdict, Never) and verdict.is_separate and one not in theirs and other not in mine:
            return one, other
    return None
