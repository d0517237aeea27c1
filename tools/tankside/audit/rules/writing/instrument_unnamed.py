"""A value that nobody can see without an instrument, and no instrument."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.wording import in_english, words
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.loading.values import Text
from tankside.model.steps import Check, Do
from tankside.problems import quoted

#: temperatures, pressures and conductivities: nobody sees them
UNSEEN = re.compile(r"[0-9] ?(?:°C|°F|K|degC|degF|m?S/cm|[\u00b5u]S/cm|S/m|bar|mbar|kPa|Pa|psi)(?![\w/])")
#: what such a value is read from
INSTRUMENT = re.compile(
    r"\b(?:thermometer|thermostat|gauge|manometer|[a-z]*meter|probe|sensor|display|dial|pointer|screen|scale|paper|strip"
    r"|label|sheet|card|list|lamp|alarm|controller|regulator|heater|knob|reading)s?\b",
    re.IGNORECASE,
)
MEASURING = frozenset({"instrument", "measure", "scale"})


@rule(
    Family.WRITING,
    Weight.SHOULD,
    read(
        "HSE HSG48",
        "as a checklist of it says",
        "a step names the item of equipment, and values are as displays show them",
    ),
    practice("who is to look at a value is told where to read it"),
)
def instrument_unnamed(audited: Audited) -> Iterator[Found]:
    """A temperature, pressure or conductivity that is looked at is read from something that is named.

    Looked at is each `check` and `do` with such a value in figures. It must name the tag of an instrument, or an
    instrument or a paper in words: 'T1', 'the thermometer', 'the label'. `measure` names its instrument in any case.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - check: The water is at 30 °C or less.

    Passes:
        # procedures/filling/example.yaml
        steps:
          - check: The thermometer in the tank shows 30 °C or less.
    """
    for procedure in in_english(audited):
        for each in placed(procedure):
            step = each.step
            if isinstance(step, Check | Do) and UNSEEN.search(step.text) and not _is_read_from(audited, step.text):
                yield Found(
                    str(procedure.procedure),
                    step.text.span,
                    f"{quoted(step.text)} does not say what the value is read from",
                    "name the instrument or its tag, or make it a 'measure'",
                )


def _is_read_from(audited: Audited, text: Text) -> bool:
    pieces = audited.plant.equipment.equipment
    tags = {str(tag) for tag, piece in pieces.items() if piece.kind in MEASURING}
    return INSTRUMENT.search(text) is not None or bool(tags & set(words(text)))
