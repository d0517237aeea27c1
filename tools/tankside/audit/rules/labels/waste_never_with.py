"""A waste drum that does not say what must never come into it."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.waste import forbidden_with, groups_in, waste_drums
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted


@rule(
    Family.LABELS,
    Weight.MUST,
    read("40 CFR 265", "App. V", "which wastes are not mixed, with what happens when they are"),
    read("MMWR 1991", "", "bleach and an acid cleaner in one bucket gave off chlorine"),
)
def waste_never_with(audited: Audited) -> Iterator[Found]:
    """A waste drum names every group that must never come into it.

    A drum is a waste drum when a procedure sends its waste there, or when it holds a waste. Its groups are those of
    what it is meant for. `never_with` must have each group of the book that must never meet one of them, by the list
    of the book or by the published table, also groups that are kept out of the workshop: a drum is where a stranger
    pours in what is left over.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          rinse-water:
            groups: [bleaches]

    Passes:
        # procedures/plant/materials.yaml
        materials:
          rinse-water:
            groups: [bleaches]
        # procedures/plant/equipment.yaml
        equipment:
          waste-drum:
            holds: [water, rinse-water]
            never_with: [acids, mild-cleaners]
    """
    materials = audited.plant.materials
    for tag, piece in waste_drums(audited):
        missing = forbidden_with(materials, groups_in(materials, piece)) - set(piece.never_with)
        if missing:
            span = piece.never_with[0].span if piece.never_with else tag.span
            message = f"waste drum {quoted(tag)} does not say that it never takes in {', '.join(sorted(missing))}"
            yield Found(str(tag), span, message, "list these groups under 'never_with', and on the drum itself")
