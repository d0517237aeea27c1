"""What is broken for the rules of the family `training`: paths, and what stands before the first work on them."""

import re
from collections.abc import Iterator

from audit_breakages.breakage import Breakage, Harmless, text_of

TRAINING = "procedures/plant/training.yaml"
#: what is learnt on the first morning, as it stands in the file
FIRST_MORNING = {
    "leave-now": "          - learn: leave-now\n            to: alone\n",
    "small-spill": "          - learn: small-spill\n            to: shown\n",
    "caught-or-shock": "          - learn: caught-or-shock\n            to: shown\n",
    "what must never meet": "          - pairs: all\n            covers: [chemicals-at-first]\n",
}
#: the path that builds on the one with the first morning
LATER = "authorised-person:"


def unprepared() -> Iterator[Breakage]:
    for what, item in FIRST_MORNING.items():
        yield Breakage(f"{what} is not learnt first", TRAINING, item, "", "path-unprepared", LATER)
    (find,) = re.findall(r"          - find: \[V1, V2, V3.*\n", text_of(TRAINING))
    yield Breakage("the tags are not found first", TRAINING, find, "", "path-unprepared", LATER)
    shown = "            to: shown\n            covers: [protective-equipment]\n"
    without = "            to: shown\n"
    yield Breakage("protective equipment is not learnt first", TRAINING, shown, without, "path-unprepared", LATER)
    begun = "          - learn: start-of-day\n            to: alone\n"
    early = "      - title: Before anything is touched\n        day: 1\n        touching: no\n"
    morning = f"      - title: At once\n        day: 1\n        items:\n{begun}{early}"
    yield Breakage("work comes before all", TRAINING, early, morning, "path-unprepared", LATER)


def missing() -> Iterator[Breakage]:
    for role, first in (
        ("authorised-person", "procedures/lockout/lock-out-degreaser-side.yaml"),
        ("line-operator", "procedures/filling/bleed-cleaner-line.yaml"),
    ):
        old, new = f"    role: {role}\n", "    role: workshop-lead\n"
        what = f"nobody says what a {role} learns"
        yield Breakage(what, TRAINING, old, new, "path-missing", f"done_by: {role}", first)


BREAKAGES: tuple[Breakage, ...] = (*unprepared(), *missing())
HARMLESS: tuple[Harmless, ...] = (
    Harmless("a tag more is looked for", TRAINING, "find: [V1, V2, V3,", "find: [V4, V1, V2, V3,"),
    Harmless("a part comes a day later", TRAINING, "        day: 11\n", "        day: 12\n"),
    Harmless("a trainee is told in other words", TRAINING, "at any time.", "whenever it seems wrong."),
)
