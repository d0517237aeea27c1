"""A tank of which nobody says that nobody goes in."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.entry import forbids
from tankside.audit.reading.wording import in_english
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.loading.values import Text
from tankside.model.claims import read_claim
from tankside.model.procedures import Procedure
from tankside.model.steps import Caution, every
from tankside.problems import quoted


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read(
        "29 CFR 1910.146",
        "(b)",
        "entry has happened as soon as any part of the body is behind the plane of the opening",
    ),
    memory("29 CFR 1910.146", "(c)", "people are told of the space and its danger, and are kept from going in"),
)
def tank_entry_not_forbidden(audited: Audited) -> Iterator[Found]:
    """Of each tank it is said that nobody goes in.

    It is said in the `note` of the tank in equipment.yaml, or in a caution of every procedure that cleans it. A
    procedure cleans a tank when one of its steps leaves it `clean`. Whoever stands before a dirty wall with a brush
    in the hand must have read it.

    Fails:
        # procedures/plant/equipment.yaml
        equipment:
          tank-60:
            note: Open at the top. It is stirred with the paddle.

    Passes:
        # procedures/plant/equipment.yaml
        equipment:
          tank-60:
            note: Nobody enters it, no head and no arm goes in.
    """
    if not in_english(audited):
        return
    for tag, piece in audited.plant.equipment.equipment.items():
        if piece.kind != "tank" or forbids(piece.note or ""):
            continue
        cleaning = [each for each in audited.procedures if _cleans(each, tag)]
        silent = [each for each in cleaning if not _is_warned(each)]
        message = f"nothing says that nobody goes into {quoted(tag)}"
        if not cleaning:
            yield Found(str(tag), tag.span, message, "say it in its note: nobody enters it, no head and no arm goes in")
        for procedure in silent:
            hint = f"say it in the note of {tag}, or in a caution of this procedure"
            yield Found(str(procedure.procedure), procedure.procedure.span, message, hint)


def _cleans(procedure: Procedure, tag: Text) -> bool:
    claims = (read_claim(text) for each in placed(procedure) for text in each.step.leaves)
    return any(claim.state == "clean" and tag in claim.subjects for claim in claims)


def _is_warned(procedure: Procedure) -> bool:
    cautions = (item for item in every(procedure.steps) if isinstance(item, Caution))
    return any(forbids(text) for each in cautions for text in (each.hazard, each.avoid))
