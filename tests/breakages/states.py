"""What is left open, running, joined, dirty or unmarked."""

from breakages.breakage import (
    BLEED,
    BLEED_DESCALER,
    BLEND,
    CLEAN,
    CLEAN_DESCALER,
    DEGREASER,
    DESCALER,
    EQUIPMENT,
    LOCK_MIXER,
    Breakage,
)

STATES = (
    Breakage(
        "tank not known to be clean",
        BLEND,
        "spill-kit-complete, tank-clean, dressed]\n",
        "spill-kit-complete, dressed]\n",
        "vessel-dirty",
        "label-the-tank",
        says="not empty",
    ),
    Breakage(
        "wash forgotten: the tank is not marked clean",
        EQUIPMENT,
        """\
      - tank-60 and D-line clean
      - tank-60 empty
""",
        "      - tank-60 and D-line clean\n",
        "vessel-dirty",
        "label-the-tank",
        at_path=DESCALER,
        says="'tank-60'",
    ),
    Breakage(
        "water of the first rinse forgotten",
        CLEAN,
        """\
  - move: softened-water
    step: rinse-in
    path: [softened-water-supply, meter-1, V1, spray-ball, tank-250]
    amount: 10 L
""",
        """\
  - do: Look at the meter.
    step: rinse-in
""",
        "runs-dry",
        "start-p1-first",
        says="'P1'",
    ),
    Breakage(
        "filled although a HOLD tag was hung",
        BLEED,
        """\
    step: pail-in-place
    leaves:
""",
        """\
    step: pail-in-place
    leaves:
      - tank-250 on hold
""",
        "not-released",
        "run-off",
        says="on hold",
    ),
    Breakage(
        "released label not looked at",
        BLEED_DESCALER,
        """\
      - tank-60 released
    if_not: not-ready
""",
        """\
      - tank-60 in process
    if_not: not-ready
""",
        "not-as-believed",
        "label-released",
        says="tank-60 in process",
    ),
    Breakage(
        "hold with the valve open",
        BLEED,
        """\
  - shut: V3
    how: lift the lever out of the catch
""",
        """\
  - do: Look at V3.
    step: shut-v3
""",
        "left-open not-as-believed",
        "hold: The reading is in limits.",
        says="'V3' is open at this hold",
    ),
    Breakage(
        "hold with a valve open that it does not name",
        BLEED,
        """\
  - record: Reading, lot and time
    where: On the batch sheet
""",
        "  - open: V1\n",
        "left-open",
        "hold: The reading is in limits.",
        says="'V1'",
    ),
    Breakage(
        "end with the mixer running",
        LOCK_MIXER,
        """\
  - stop: M1
    step: stop-m1-trial
""",
        """\
  - do: Look at M1.
    step: stop-m1-trial
""",
        "left-running",
        "record: What was done, who locked",
        says="'M1'",
    ),
    Breakage(
        "end with the line under pressure",
        BLEED,
        """\
  - stop: P1
  - shut: V2
  - do: Hold the red sample cup under N1 until it is half full.
    step: catch-a-sample
    exposes: [milk-line-cleaner]
  - shut: V3
    how: lift the lever out of the catch
""",
        """\
  - do: Hold the red sample cup under N1 until it is half full.
    step: catch-a-sample
    exposes: [milk-line-cleaner]
  - shut: V3
  - stop: P1
  - shut: V2
""",
        "left-pressure",
        "hold: The reading is in limits.",
        says="'cleaner-line'",
    ),
    Breakage(
        "hatch left open at the end",
        DESCALER,
        """\
  - shut: D-hatch
    step: shut-hatch-after-sample
""",
        """\
  - do: Look at the hatch.
    step: shut-hatch-after-sample
""",
        "left-open not-as-believed",
        "release-the-lot",
        says="'D-hatch' is open at this hold",
    ),
    Breakage(
        "hatch left open where the way out ends",
        CLEAN_DESCALER,
        """\
    leaves:
      - D-hatch shut
""",
        "",
        "left-open",
        "hold-dirty",
        says="'look-inside'",
    ),
    Breakage(
        "hatch left open, and the way out believes it shut",
        CLEAN,
        """\
    step: clamp-hatch-dirty
    leaves:
      - hatch-250 shut
""",
        "    step: clamp-hatch-dirty\n",
        "not-as-believed",
        "shut-and-off",
        says="'look-inside'",
    ),
    Breakage(
        "stop that leaves V3 open",
        BLEED,
        """\
  - V2 and V3 shut
amounts:
""",
        """\
  - V2 shut
amounts:
""",
        "stop-unsafe",
        "stop_safely:",
        says="'V3'",
    ),
    Breakage(
        "stop that leaves the hatch open",
        CLEAN,
        """\
  - hatch-250 shut
amounts:
""",
        "amounts:\n",
        "stop-unsafe",
        "stop_safely:",
        says="'hatch-250'",
    ),
    Breakage(
        "stop that leaves the mixer running",
        DEGREASER,
        """\
  - G-M1 stopped
inputs:
""",
        "inputs:\n",
        "stop-unsafe",
        "stop_safely:",
        says="'G-M1'",
    ),
)
