"""Which procedures people are led to, from the checklists and emergencies on."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.catalogue.walking import texts
from tankside.model.procedures import Procedure
from tankside.model.references import Refers
from tankside.model.steps import Section


def led_to(audited: Audited) -> frozenset[str]:
    """Return the procedures on a checklist, the emergencies, and all that these lead to, step by step."""
    found: set[str] = set()
    todo = [str(item.procedure) for each in audited.book.checklists.values() for item in each.items]
    todo += [str(each.procedure) for each in audited.procedures if each.is_emergency]
    by_name = {str(each.procedure): each for each in audited.procedures}
    while todo:
        name = todo.pop()
        if name not in found:
            found.add(name)
            todo += _led_to_by(audited, by_name[name])
    return frozenset(found)


def _led_to_by(audited: Audited, procedure: Procedure) -> Iterator[str]:
    own = {str(item.section) for item in procedure.steps if isinstance(item, Section)}
    conditions = audited.plant.equipment.conditions
    for text, meaning in texts(procedure):
        to = meaning.to if isinstance(meaning, Refers) else ""
        if to == "procedure" or (to == "place" and str(text) not in own):
            yield str(text)
        elif to == "condition":
            brought_by = conditions[text].from_
            if brought_by is not None:
                yield brought_by.partition("/")[0]
