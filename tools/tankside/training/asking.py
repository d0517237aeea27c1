"""How somebody's competence stands, asked with all that is known of a person."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from tankside.model.training import ALONE
from tankside.quantities.portable import Portable
from tankside.training.people import Person
from tankside.training.standing import Case, Rules, Standing, day_of, standing
from tankside.training.taught import Taught


@dataclass(frozen=True)
class Asked:
    """A procedure on a day."""

    taught: Taught
    rules: Rules
    today: str
    goal: str = ALONE
    #: only entries before this one count; None where all do
    before: Portable | None = None


def stands(person: Person, asked: Asked, worked: Collection[str]) -> Standing:
    """Return how the competence of a person stands; `worked` are the days of working copies."""
    procedure = asked.taught.procedure
    entries = [each for each in person.about(procedure) if _is_before(each, asked.before)]
    drills = [day_of(each) for each in entries if each["kind"] == "drill"]
    return standing(
        Case(
            entries=entries,
            uses=(*drills, *worked),
            taught=person.taught,
            now=asked.taught,
            rules=asked.rules,
            today=asked.today,
            goal=asked.goal,
        )
    )


def _is_before(entry: Portable, other: Portable | None) -> bool:
    return other is None or datetime.fromisoformat(entry["at"]) < datetime.fromisoformat(other["at"])
