"""Steps in the wrong order, or left out."""

from breakages.breakage import (
    BLEED,
    BLEND,
    CLEAN,
    CLEAN_DESCALER,
    Breakage,
)

ORDER = (
    Breakage(
        "pump before the valve it draws from",
        BLEED,
        """\
  - open: V2
    how: slowly, to the stop
  - start: P1
""",
        """\
  - start: P1
  - open: V2
    how: slowly, to the stop
""",
        "runs-dry",
        "start: P1",
    ),
    Breakage(
        "valve before the stop of the pump that draws from it",
        BLEED,
        """\
  - stop: P1
  - shut: V2
""",
        """\
  - shut: V2
  - stop: P1
""",
        "runs-dry",
        "shut: V2",
    ),
    Breakage(
        "valve before the stop of the pump that presses on it",
        CLEAN_DESCALER,
        """\
      - stop: D-P1
        how: at once, it must not run dry
      - shut: D-V1
      - shut: D-V3
""",
        """\
      - shut: D-V3
      - stop: D-P1
        how: at once, it must not run dry
      - shut: D-V1
""",
        "pump-shut runs-dry",
        "shut: D-V3",
    ),
    Breakage(
        "pump not started",
        BLEED,
        "  - start: P1\n",
        """\
  - do: Look at P1.
    step: start-p1
""",
        "not-driven",
        "run-off",
        says="'P1'",
    ),
    Breakage(
        "trigger of the drum pump not held",
        BLEND,
        """\
  - start: P3
    how: hold the trigger
""",
        """\
  - do: Look at P3.
    step: start-p3
""",
        "not-driven",
        "add-alkali",
        says="'P3'",
    ),
    Breakage(
        "pump left running after the tank is empty",
        CLEAN,
        """\
  - stop: P1
    step: stop-p1-wash-out
    how: at once, it must not run dry
""",
        """\
  - do: Listen to P1.
    step: stop-p1-wash-out
""",
        "runs-dry",
        "stop-p1-wash-out",
        says="'P1'",
    ),
)
