"""A procedure that handles what nobody has confirmed."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.catalogue.walking import texts
from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.model.references import Refers
from tankside.problems import quoted


@rule(
    Family.UPKEEP,
    Weight.MUST,
    read("29 CFR 1910.1200", "(g)(8)", "people can look up the hazards of each chemical they work with"),
    practice("nobody handles a liquid whose hazards and first aid were not compared with its data sheet"),
)
def unconfirmed_handled(audited: Audited) -> Iterator[Found]:
    """No procedure handles a material that is marked as unconfirmed.

    Looked at is each material that a procedure moves or adds, or names under `handles` and `exposes`. What to wear and
    what to do after a splash is taken from the material, so such a procedure is not for use, however well it is
    written.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            unconfirmed: yes
        # procedures/filling/example.yaml
        handles: [sample-cleaner]

    Passes:
        # procedures/filling/example.yaml
        handles: [sample-cleaner]
    """
    materials = audited.plant.materials.materials
    for procedure in audited.procedures:
        for name in _handled(procedure):
            if materials[name].unconfirmed is not None:
                yield Found(
                    str(procedure.procedure),
                    name.span,
                    f"it handles {quoted(name)}, whose hazards and first aid nobody has confirmed",
                    f"compare {name} in materials.yaml with its data sheet, then delete 'unconfirmed' there",
                )


def _handled(procedure: Procedure) -> tuple[Text, ...]:
    """Return each material of a procedure where it is named first."""
    found: dict[str, Text] = {}
    for text, meaning in texts(procedure):
        if isinstance(meaning, Refers) and meaning.to == "material":
            found.setdefault(str(text), text)
    return tuple(found.values())
