"""Too much, too little, or not looked at."""

from breakages.breakage import (
    BLEED,
    BLEND,
    CLEAN,
    CLEAN_DEGREASER,
    CLEAN_DESCALER,
    DEGREASER,
    EQUIPMENT,
    Breakage,
)

AMOUNTS = (
    Breakage(
        "pail too small for what is run into it",
        EQUIPMENT,
        """\
    made_of: HDPE
    capacity: 20 L
""",
        """\
    made_of: HDPE
    capacity: 15 L
""",
        "receiver-too-small",
        "collect_in: waste-pail-20-l",
        at_path=BLEED,
        says="'waste-pail-20-l'",
    ),
    # 3.69 L * ln(1000) = 25.5 L
    Breakage(
        "line flushed until a thousandth is left, into one pail",
        BLEED,
        "      remaining: 5 %\n",
        "      remaining: 0.1 %\n",
        "receiver-too-small",
        "collect_in: waste-pail-20-l",
    ),
    # 40 L + 10 L + 30 L + 4 * 20 L = 160 L, three quarters of the drum are 150 L
    Breakage(
        "water of each rinse doubled",
        CLEAN,
        """\
        path: [softened-water-supply, meter-1, V1, spray-ball, tank-250]
        amount: 10 L
""",
        """\
        path: [softened-water-supply, meter-1, V1, spray-ball, tank-250]
        amount: 20 L
""",
        "receiver-too-full",
        "rinse-again-out",
        says="'waste-drum-alkaline'",
    ),
    # 20 L + 4 * 10 L = 60 L, three quarters of the drum are 45 L
    Breakage(
        "water of each descaler rinse doubled",
        CLEAN_DESCALER,
        "        amount: 5 L\n",
        "        amount: 10 L\n",
        "receiver-too-full",
        "rinse-out",
        says="'waste-drum-acid'",
    ),
    # 40 L + 4 * 20 L = 120 L, three quarters of the drum are 90 L
    Breakage(
        "water of each degreaser rinse doubled",
        CLEAN_DEGREASER,
        "        amount: 10 L\n",
        "        amount: 20 L\n",
        "receiver-too-full",
        "rinse-out",
        says="'waste-drum-degreaser'",
    ),
    # 260 L and a heel of 1.5 L into 250 L
    Breakage(
        "batch larger than the tank",
        BLEND,
        "    to: 200 L\n",
        "    to: 260 L\n",
        "overflow",
        "add-last-water",
        says="'tank-250'",
    ),
    Breakage(
        "tank not looked at before the first rinse",
        CLEAN,
        """\
      - tank-250 empty
      - tank-250 holds milk-line-cleaner
    if_not: not-sure
""",
        """\
      - tank-250 holds milk-line-cleaner
    if_not: not-sure
""",
        "overflow",
        "rinse-in",
        says="'tank-250'",
    ),
    Breakage(
        "waste drum fuller than the cleaning can bear",
        EQUIPMENT,
        "      - waste-drum-alkaline at most 40 L\n",
        "      - waste-drum-alkaline at most 90 L\n",
        "receiver-too-full",
        "rinse-again-out",
        at_path=CLEAN,
        says="'waste-drum-alkaline'",
    ),
    # at most 200 L * 1.06 kg/L * 10 %w/w / 1.45 kg/L = 14.6 L
    Breakage(
        "alkali drum without enough",
        BLEND,
        "      - potassium-hydroxide-drum at least 20 L\n",
        "      - potassium-hydroxide-drum at least 10 L\n",
        "runs-dry",
        "add-alkali",
        says="'potassium-hydroxide-drum'",
    ),
    # at most 200 L * 1.06 kg/L * 15 %w/w / 1.2 kg/L = 26.5 L
    Breakage(
        "hypochlorite drum without enough",
        BLEND,
        "      - hypochlorite-drum at least 30 L\n",
        "      - hypochlorite-drum at least 20 L\n",
        "runs-dry",
        "add-hypochlorite",
        says="'hypochlorite-drum'",
    ),
    Breakage(
        "alkali drum of the degreaser not weighed",
        DEGREASER,
        "      - G-alkali-drum at least 10 L\n",
        "      - G-alkali-drum at least 1 L\n",
        "runs-dry",
        "add-alkali",
        says="'G-alkali-drum'",
    ),
    Breakage(
        "tank without enough for the bleed",
        BLEED,
        "      - tank-250 at least 40 L\n",
        "      - tank-250 at least 10 L\n",
        "runs-dry",
        "run-off",
        says="'tank-250'",
    ),
)
