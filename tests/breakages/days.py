"""What nothing has brought about."""

from breakages.breakage import (
    BOOK,
    EQUIPMENT,
    MAKING,
    OPENING,
    START,
    Breakage,
)

DAYS = (
    Breakage(
        "nothing brings the condition about",
        EQUIPMENT,
        "    from: clean-degreaser-tank\n",
        "",
        "prerequisite-unmet",
        "tank-100 and G-line clean",
        says="no procedure",
    ),
    Breakage(
        "what is to prove the air does not",
        START,
        """\
    leaves:
      - exhaust-1 proved
""",
        "",
        "prerequisite-unmet",
        "exhaust-1 proved",
        at_path=EQUIPMENT,
        says="start-of-day/air",
    ),
    Breakage(
        "batch before the tank is cleaned",
        MAKING,
        """\
  - procedure: clean-mixing-tank
    why: What is left of the last batch spoils the next one. It goes into the waste drum while that has the most room.
  - procedure: blend-milk-line-cleaner
    why: Into a tank that was seen to be clean today, and not before.
""",
        """\
  - procedure: blend-milk-line-cleaner
    why: Into a tank that was seen to be clean today, and not before.
  - procedure: clean-mixing-tank
    why: What is left of the last batch spoils the next one. It goes into the waste drum while that has the most room.
""",
        "prerequisite-unmet",
        "procedure: blend-milk-line-cleaner",
        says="'tank-clean'",
    ),
    Breakage(
        "work before the workshop is opened",
        BOOK,
        "[open-the-workshop, make-cleaner, fill-cleaner, close-the-workshop]",
        "[make-cleaner, open-the-workshop, fill-cleaner, close-the-workshop]",
        "prerequisite-unmet",
        "procedure: clean-mixing-tank",
        at_path=MAKING,
        says="'exhaust-proved'",
    ),
    Breakage(
        "air not proved on opening",
        OPENING,
        """\
  - procedure: start-of-day
    section: air
    why: A dead exhaust kept chlorine in the room, in a published accident.
""",
        "",
        "prerequisite-unmet",
        "procedure: clean-mixing-tank",
        at_path=MAKING,
        says="'exhaust-proved'",
    ),
)
