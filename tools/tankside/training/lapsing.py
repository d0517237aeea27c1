"""After how many days a competence lapses, as the book says."""

from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.model.training import USUAL, Training
from tankside.problems import Span
from tankside.training.standing import Rules
from tankside.units import parse_quantity

#: where a book says nothing. Half of what was gained in accuracy is lost after about 6.5 months without use (Tatel and
#: Ackerman, Psychological Bulletin, doi 10.1037/bul0000481), with d = -1.4 after more than 365 days (Arthur, Bennett,
#: Stanush and McNelly, Human Performance 1998, doi 10.1207/s15327043hup1101_3); of both the abstracts were read. Once a
#: year is how often 29 CFR 1910.147(c)(6) has lockout looked at.
DEFAULT = Rules(after=365, unused_for=180)
_DAY = 86400


def rules_of(training: Training, procedure: Procedure) -> Rules:
    """Return the rules for a procedure: its own, else those of its family, else the usual ones, else DEFAULT."""
    for name in (str(procedure.procedure), str(procedure.family), USUAL):
        found = training.lapses.get(Text(name, Span("")))
        if found is not None:
            return Rules(_days(found.after), _days(found.unused_for))
    return DEFAULT


def _days(text: str) -> int:
    """Return a time in whole days, a part of a day dropped."""
    return int(parse_quantity(text, ("time",)).value // _DAY)
