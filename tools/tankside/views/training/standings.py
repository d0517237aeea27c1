"""Who may do what on a day, as a list to hang in the office."""

from dataclasses import dataclass


@dataclass(frozen=True)
class StandingRow:
    """How somebody stands in a procedure, in words."""

    title: str
    goal: str
    says: str


@dataclass(frozen=True)
class StandingsView:
    """The list of a day."""

    day: str
    #: initials -> a row for each procedure
    people: tuple[tuple[str, tuple[StandingRow, ...]], ...]
