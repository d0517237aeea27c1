"""Ways that are not joined, lead elsewhere, or stand open."""

from breakages.breakage import (
    BLEED,
    BLEED_DESCALER,
    BLEND,
    CLEAN,
    CLEAN_DEGREASER,
    CLEAN_DESCALER,
    DESCALER,
    Breakage,
)

WAYS = (
    Breakage(
        "line of the other side in the path",
        BLEED,
        "    path: [tank-250, V2, P1, cleaner-line, V3, N1, waste-pail-20-l]\n",
        "    path: [tank-250, V2, P1, G-line, V3, N1, waste-pail-20-l]\n",
        "never-meet path-not-joined not-held",
        "run-off",
        says="'G-line'",
    ),
    Breakage(
        "degreaser to the cleaner line",
        CLEAN_DEGREASER,
        "        path: [tank-100, G-V2, G-P1, G-line, G-V3, G-N1, waste-drum-degreaser]\n",
        "        path: [tank-100, G-V2, G-P1, cleaner-line, G-V3, G-N1, waste-drum-degreaser]\n",
        "never-meet path-not-joined not-held",
        "rinse-out",
        says="'cleaner-line'",
    ),
    Breakage(
        "drum named where the tail is in the pail",
        BLEED,
        "    path: [tank-250, V2, P1, cleaner-line, V3, N1, waste-pail-20-l]\n",
        "    path: [tank-250, V2, P1, cleaner-line, V3, N1, waste-drum-alkaline]\n",
        "path-not-joined",
        "run-off",
        says="'waste-drum-alkaline'",
    ),
    Breakage(
        "tail in the drum where the pail is named",
        BLEED,
        "      - N1 joined to waste-pail-20-l\n",
        "      - N1 joined to waste-drum-alkaline\n",
        "path-not-joined",
        "run-off",
        says="'waste-pail-20-l'",
    ),
    Breakage(
        "a valve of the path not named",
        BLEED_DESCALER,
        "    path: [tank-60, D-V1, D-P1, D-line, D-V3, D-N1, D-pail-10-l]\n",
        "    path: [tank-60, D-V1, D-P1, D-line, D-N1, D-pail-10-l]\n",
        "path-not-joined",
        "run-off",
        says="'D-N1'",
    ),
    Breakage(
        "nothing under the nozzle",
        BLEED_DESCALER,
        """\
    leaves:
      - D-N1 joined to D-pail-10-l
""",
        "",
        "open-end",
        "start: D-P1",
        says="'D-N1'",
    ),
    Breakage(
        "hose tail not in the drum",
        CLEAN_DEGREASER,
        """\
    leaves:
      - G-N1 joined to waste-drum-degreaser
""",
        "",
        "open-end",
        "start: G-P1",
        says="'G-N1'",
    ),
    Breakage(
        "drum hose not clipped in, and looked at",
        BLEND,
        """\
    leaves:
      - P3 joined to tank-250
""",
        "",
        "not-as-believed",
        "ready-for-alkali",
        says="P3 joined to tank-250",
    ),
    Breakage(
        "drum hose taken out too early",
        BLEND,
        """\
  - do: Set the floor scale to zero with the drum on it.
    step: zero-for-alkali
""",
        """\
  - do: Hang the violet hose on its drum.
    step: zero-for-alkali
    leaves:
      - P3 joined to nothing
""",
        "pump-shut",
        "start: P3",
        says="'P3'",
    ),
    Breakage(
        "hose left joined to the drum",
        CLEAN_DESCALER,
        """\
    step: hose-in-clip
    exposes: [waste-acid]
    leaves:
      - D-N1 joined to nothing
""",
        """\
    step: hose-in-clip
    exposes: [waste-acid]
""",
        "left-joined",
        "gloves-stay",
        says="'D-N1'",
    ),
    Breakage(
        "poured through a hatch that is shut",
        BLEND,
        """\
  - open: hatch-250
    step: unclamp-hatch
    how: undo its four clamps
""",
        """\
  - do: Step up to the hatch.
    step: unclamp-hatch
""",
        "no-way-in",
        "add: scale-inhibitor",
        says="hatch-250",
    ),
    Breakage(
        "powder poured through a hatch that is shut",
        DESCALER,
        """\
  - open: D-hatch
    step: open-hatch-for-citric
""",
        """\
  - do: Step up to the hatch.
    step: open-hatch-for-citric
""",
        "no-way-in",
        "add-citric",
        says="D-hatch",
    ),
    Breakage(
        "hatch left open while the wash is sprayed",
        CLEAN,
        """\
  - shut: hatch-250
    step: clamp-hatch-wash
    how: with all four clamps
  - section: wash
    title: Wash, 20 minutes
  - check: The hatch is clamped. The flaps of ports 2 and 3 are shut. V3 is shut.
    step: ready-to-spray
    second_person: yes
    finds:
      - hatch-250 shut
""",
        """\
  - do: Look at the hatch.
    step: clamp-hatch-wash
  - section: wash
    title: Wash, 20 minutes
  - check: The hatch is clamped. The flaps of ports 2 and 3 are shut. V3 is shut.
    step: ready-to-spray
    second_person: yes
    finds:
""",
        "sprays-open",
        "start-p1-wash",
        says="hatch-250",
    ),
    Breakage(
        "hatch left open, and looked at",
        CLEAN,
        """\
  - shut: hatch-250
    step: clamp-hatch-wash
    how: with all four clamps
""",
        """\
  - do: Look at the hatch.
    step: clamp-hatch-wash
""",
        "not-as-believed",
        "ready-to-spray",
        says="hatch-250 shut",
    ),
    Breakage(
        "hatch opened again before alkali is pumped in",
        BLEND,
        """\
  - do: Set the floor scale to zero with the drum on it.
    step: zero-for-alkali
""",
        """\
  - open: hatch-250
    step: zero-for-alkali
""",
        "sprays-open",
        "start: P3",
        says="hatch-250",
    ),
    Breakage(
        "hatch opened while the wash runs round",
        CLEAN,
        "  - wait: 20 min\n",
        "  - open: hatch-250\n    step: peep-in\n  - shut: hatch-250\n    step: seen\n  - wait: 20 min\n",
        "sprays-open",
        "peep-in",
        says="hatch-250",
    ),
    Breakage(
        "water sprayed in while the hatch is open",
        CLEAN,
        "  - shut: V1\n    step: shut-v1-wash\n",
        "  - shut: V1\n    step: shut-v1-wash\n  - open: V1\n    step: open-v1-again\n"
        "  - open: hatch-250\n    step: open-hatch-too-early\n"
        "  - move: softened-water\n    step: spray\n"
        "    path: [softened-water-supply, meter-1, V1, spray-ball, tank-250]\n    amount: 1 L\n"
        "  - shut: V1\n    step: shut-v1-again\n  - shut: hatch-250\n    step: shut-hatch-again\n",
        "sprays-open",
        "spray",
        says="hatch-250",
    ),
    Breakage(
        "tank opened with nothing under the nozzle",
        BLEED,
        "    leaves:\n      - N1 joined to waste-pail-20-l\n",
        "",
        "open-end",
        "open: V2",
        says="'tank-250'",
    ),
    Breakage(
        "hose tail of the cleaner in the acid drum",
        CLEAN,
        """\
    step: hose-to-drum
    exposes: [milk-line-cleaner]
    leaves:
      - N1 joined to waste-drum-alkaline
""",
        """\
    step: hose-to-drum
    exposes: [milk-line-cleaner]
    leaves:
      - N1 joined to waste-drum-acid
""",
        "path-not-joined",
        "hose-to-drum",
        says="cannot be joined",
    ),
    Breakage(
        "return to the tank left open while it is pumped out",
        CLEAN,
        "  - shut: V4\n  - section: wash-out\n",
        "  - section: wash-out\n",
        "path-branches",
        "pump-wash-out",
        says="'tank-250'",
    ),
)
