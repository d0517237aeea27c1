"""Acid that is added where hypochlorite is."""

import re
from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.filling import Filling, fillings
from tankside.audit.reading.substances import ACID, HYPOCHLORITE, is_of, names_of
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.model.steps import Add, Check, Do, Drive, Hold, Isolate, Measure, Move, Repeat, Step, TurnValve
from tankside.problems import quoted

_SENTENCE = re.compile(r"[.;:](?:\s|$)")
#: with acid or vinegar in the same sentence: a pH is corrected, something is corrected with it, it is added for a pH
_CORRECTS = re.compile(
    r"\b(?:adjust|bring down|correct|lower|neutrali[sz]e|reduce|trim)\b.*\bph\b"
    r"|\b(?:adjust|balance|correct|mend|neutrali[sz]e|trim)\b.*\b(?:with|by|using)\b.*\b(?:acid\w*|vinegar)\b"
    r"|\badd\b.*\bph\b",
    re.IGNORECASE,
)
_WITH_ACID = re.compile(r"\b(?:acid\w*|vinegar)\b", re.IGNORECASE)
_DENIED = re.compile(r"\b(?:no|not|never|nothing|nobody|without)\b", re.IGNORECASE)


@rule(
    Family.SUBSTANCES,
    Weight.MUST,
    read("MMWR 1991", "", "an acid cleaner of 4 % in thinned bleach gave off chlorine at once"),
    read("40 CFR 265", "App. V", "which substances are kept apart, with what happens when they are not"),
)
def trimmed_with_acid(audited: Audited) -> Iterator[Found]:
    """No acid goes where hypochlorite is, and no step tells to correct a pH with it.

    Looked at is every step that adds or moves an acid into a vessel that is meant for hypochlorite, or that may hold it
    by then. In procedures that handle hypochlorite, the words of each step are read as well: a sentence that corrects,
    adjusts, lowers or neutralises a pH, or mends something, with acid or vinegar, and has no `no` in it. A batch whose
    pH is too high goes on hold.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            groups: [bleaches]
        # procedures/filling/example.yaml
        handles: [sample-cleaner]
        steps:
          - do: Adjust the pH to 11 with citric acid.

    Passes:
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            groups: [bleaches]
        # procedures/filling/example.yaml
        handles: [sample-cleaner]
        steps:
          - do: Put the batch on hold. Never adjust the pH with acid.
    """
    for procedure in audited.procedures:
        for each in fillings(audited, procedure):
            if _meets(audited, each):
                message = f"{quoted(each.material)} goes into {quoted(each.into)}, where hypochlorite may be"
                yield Found(str(procedure.procedure), each.step.span, message, "leave it out; put the lot on hold")
        if _handles(audited, procedure):
            yield from _told(procedure)


def _meets(audited: Audited, filling: Filling) -> bool:
    materials = audited.plant.materials
    if not is_of(materials, materials.materials[filling.material], ACID):
        return False
    meant = audited.rehearsal.setting.plant.parts[filling.into].holds
    return bool(names_of(materials, HYPOCHLORITE) & (meant | filling.present()))


def _handles(audited: Audited, procedure: Procedure) -> bool:
    """Return whether hypochlorite, or what it is mixed to, is handled in a procedure."""
    run = audited.rehearsal.of(str(procedure.procedure))
    exposed = {material for all_ in run.exposed.values() for each in all_ for material in each.materials}
    brought = {material for _, material in run.reached}
    found = names_of(audited.plant.materials, HYPOCHLORITE)
    return bool(found & ({*map(str, procedure.handles)} | exposed | brought))


def _told(procedure: Procedure) -> Iterator[Found]:
    texts = [text for each in placed(procedure) for text in _texts(each.step)]
    for text in (*texts, *(each.do for each in procedure.if_it_goes_wrong)):
        for sentence in _SENTENCE.split(text):
            if _CORRECTS.search(sentence) and _WITH_ACID.search(sentence) and not _DENIED.search(sentence):
                message = f"{quoted(text)} tells to correct with acid, and hypochlorite is handled here"
                yield Found(str(procedure.procedure), text.span, message, "put the lot on hold; never add acid")


def _texts(step: Step) -> Iterator[Text]:
    match step:
        case Do() | Check() | Measure() | Hold() | Repeat():
            yield step.text
        case Add() | Move() | TurnValve() | Drive() | Isolate():
            yield from (step.how,) if step.how is not None else ()
