"""A text that nobody has confirmed for this workshop."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, memory, practice, rule
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.MUST,
    memory("29 CFR 1910.132", "(d)(1)", "the hazards of this workplace are assessed, not those of another"),
    practice("cautions and first aid are compared with the dated data sheets before anybody works by them"),
)
def starter_text(audited: Audited) -> Iterator[Found]:
    """No procedure and no material is marked as unconfirmed.

    Looked at is `unconfirmed`. It stands where a text was taken over from elsewhere, or written before the data sheets
    were there. Its cautions and its first aid may be right for another liquid.

    Lay it beside the data sheets of what was delivered, correct it, and delete the mark. Who deletes it answers for
    it.

    Fails:
        # procedures/filling/example.yaml
        unconfirmed: yes

    Passes:
        # procedures/filling/example.yaml
        scope: Compared with the data sheets of September 2026.
    """
    for procedure in audited.procedures:
        if procedure.unconfirmed is not None:
            yield Found(
                str(procedure.procedure),
                procedure.unconfirmed.span,
                "nobody has confirmed its cautions for this workshop",
                "compare it with the data sheets and with the work, correct it, then delete 'unconfirmed'",
            )
    for name, material in audited.plant.materials.materials.items():
        if material.unconfirmed is not None:
            yield Found(
                str(name),
                material.unconfirmed.span,
                f"nobody has confirmed hazards and first aid of {quoted(name)}",
                "compare them with its dated data sheet, correct them, then delete 'unconfirmed'",
            )
