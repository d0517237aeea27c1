"""An emergency that is decided by litres."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.emergency import against_spills, emergencies
from tankside.audit.reading.wording import sentences
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.model.steps import Check, Choose, Do, Repeat, Step
from tankside.problems import quoted
from tankside.units import UNITS

_SYMBOLS = "|".join(re.escape(symbol) for symbol, unit in UNITS.items() if unit.kind.name == "volume")
_WORDS = r"(?:milli)?lit(?:re|er)s?|gallons?|quarts?|pints?|(?:fluid )?ounces?|cups?full?|bucketfuls?|pailfuls?"
#: what a vessel is named by, such as a 20 L pail or a gallon jug, is no measure of a spill
_VESSEL = r"(?! *-? *(?:tank|drum|pail|bucket|jug|bottle|can|container|carboy)\b)"
VOLUME = re.compile(rf"(?<![\w.])(?:[0-9][0-9.,]* ?(?:{_SYMBOLS}|gal)|{_WORDS})(?![\w/]){_VESSEL}")


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read(
        "29 CFR 1910.120",
        "",
        "an incidental release is one that people on the spot can take up or control then and there",
    ),
    read(
        "29 CFR 1910.120", "OSHA letter of 8 November 1991", "conditions make a release an emergency, no fixed quantity"
    ),
)
def spill_by_volume(audited: Audited) -> Iterator[Found]:
    """An emergency is decided by conditions that people see, smell and feel, never by litres.

    An emergency procedure that needs a spill kit has `leave_if`: questions that a frightened newcomer can answer by
    looking, and one yes means leave. In no emergency procedure does a volume stand where something is decided: in
    the scope, the questions, a check, a choice, a repeat, the sign of what goes wrong, or behind an if. A number
    that names a vessel, such as a 20 L pail, is no such volume.

    Half a litre of one liquid fills a room with gas, and forty litres of another are mopped up. Nobody can guess
    litres on a floor. Ask whether it stings, whether it is unknown, whether two liquids have met, whether it runs
    on.

    Fails:
        # procedures/safety/small-spill.yaml
        leave_if:
          any_of:
            - Is it more than 5 L?

    Passes:
        # procedures/safety/small-spill.yaml
        leave_if:
          any_of:
            - Does it sting, smell strong, foam or get warm?
            - Is it wider than the socks of the kit can ring?
    """
    for procedure in against_spills(audited):
        if procedure.leave_if is None:
            name = procedure.procedure
            message = f"{quoted(name)} does not say when nobody may take a spill up any more"
            yield Found(str(name), name.span, message, "write the conditions under 'leave_if'")
    for procedure in emergencies(audited):
        for text in _deciding(procedure):
            found = VOLUME.search(text)
            if found is not None:
                message = f"an emergency is decided by a volume, {quoted(found[0])}, in {quoted(text)}"
                yield Found(str(procedure.procedure), text.span, message, "ask for what people see, smell or feel")


def _deciding(procedure: Procedure) -> Iterator[Text]:
    yield procedure.scope
    if procedure.leave_if is not None:
        yield from procedure.leave_if.any_of
    for each in placed(procedure):
        yield from _asked(each.step)
    yield from (remedy.sign for remedy in procedure.if_it_goes_wrong)


def _asked(step: Step) -> Iterator[Text]:
    if isinstance(step, Check | Choose | Repeat):
        yield step.text
    if isinstance(step, Choose):
        yield from (branch.if_ for branch in step.branches)
    if isinstance(step, Repeat):
        yield step.until
    if isinstance(step, Do) and any(each.lower().startswith(("if ", "when ")) for each in sentences(step.text)):
        yield step.text
