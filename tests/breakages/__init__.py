"""Single breakages of the demo book, by what is broken."""

from breakages.amounts import AMOUNTS
from breakages.bottles import BOTTLES
from breakages.breakage import Breakage
from breakages.days import DAYS
from breakages.locks import LOCKS
from breakages.meeting import MATERIALS_THAT_MEET
from breakages.order import ORDER
from breakages.people import PEOPLE
from breakages.states import STATES
from breakages.valves import VALVES
from breakages.ways import WAYS

GROUPS = (VALVES, BOTTLES, ORDER, AMOUNTS, WAYS, MATERIALS_THAT_MEET, STATES, PEOPLE, LOCKS, DAYS)
ALL: tuple[Breakage, ...] = tuple(each for group in GROUPS for each in group)
