"""Materials where they must not be."""

from breakages.breakage import (
    BLEED,
    BLEED_DESCALER,
    BLEND,
    CLEAN,
    DEGREASER,
    DESCALER,
    EQUIPMENT,
    MATERIALS,
    Breakage,
)

MATERIALS_THAT_MEET = (
    Breakage(
        "acid into the cleaner tank",
        BLEND,
        "  - add: scale-inhibitor\n",
        "  - add: lactic-acid-solution\n",
        "never-meet pair-unknown not-held not-dressed",
        "add: lactic-acid-solution",
        says="chlorine gas",
    ),
    Breakage(
        "waste of the cleaner side into the acid drum",
        BLEED,
        "    path: [waste-pail-20-l, waste-drum-alkaline]\n",
        "    path: [waste-pail-20-l, waste-drum-acid]\n",
        "never-meet not-held overflow not-dressed",
        "pour-pail",
        says="chlorine gas",
    ),
    Breakage(
        "waste acid into the alkaline drum",
        BLEED_DESCALER,
        "    path: [D-pail-10-l, waste-drum-acid]\n",
        "    path: [D-pail-10-l, waste-drum-alkaline]\n",
        "never-meet not-held overflow not-dressed",
        "pour-pail",
        says="chlorine gas",
    ),
    Breakage(
        "acid weighed into the jug of the degreaser",
        DESCALER,
        """\
    with: D-jug-5-l
    amount: <lactic>
    how: weigh into the blue jug,""",
        """\
    with: G-jug-5-l
    amount: <lactic>
    how: weigh into the jug beside D-jug-5-l,""",
        "never-meet not-held",
        "add-lactic",
        says="'G-jug-5-l'",
    ),
    Breakage(
        "acid weighed into the dry powder bucket",
        DESCALER,
        """\
    with: D-jug-5-l
    amount: <lactic>
    how: weigh into the blue jug,""",
        """\
    with: D-bucket-10-l
    amount: <lactic>
    how: weigh into the bucket beside D-jug-5-l,""",
        "not-held",
        "add-lactic",
        says="'D-bucket-10-l'",
    ),
    Breakage(
        "solvent into the cleaner tank",
        DEGREASER,
        """\
    to: tank-100
    with: G-jug-5-l
    amount: <solvent>
""",
        """\
    to: tank-250
    with: G-jug-5-l
    amount: <solvent>
""",
        "never-meet pair-unknown not-held no-way-in overflow",
        "add-solvent",
        says="'glycol-ether'",
    ),
    Breakage(
        "hypochlorite called wash",
        CLEAN,
        """\
  - add: milk-line-cleaner
    step: add-wash-cleaner
""",
        """\
  - add: acid-descaler
    step: add-wash-cleaner
""",
        "never-meet not-held not-dressed",
        "add-wash-cleaner",
        says="chlorine gas",
    ),
    Breakage(
        "cleaner tank meant for acid, too",
        EQUIPMENT,
        """\
      - wash-solution
      - rinse-water
""",
        """\
      - citric-acid
      - wash-solution
      - rinse-water
""",
        "shared-part pair-unknown",
        "citric-acid",
        says="'tank-250'",
    ),
    Breakage(
        "cleaner and degreaser in one line",
        EQUIPMENT,
        "    connects: [P1, V3, V5, G1]\n    holds: [softened-water, milk-line-cleaner,",
        "    connects: [P1, V3, V5, G1]\n    holds: [softened-water, grill-degreaser, milk-line-cleaner,",
        "shared-part",
        "holds: [softened-water, grill-degreaser, milk-line-cleaner,",
        says="'cleaner-line'",
    ),
    Breakage(
        "nobody says that hypochlorite may meet alkali",
        MATERIALS,
        "  - groups: [caustics, hypochlorites]\n",
        "  - groups: [caustics, caustics]\n",
        "pair-unknown",
        "add-alkali",
        at_path=BLEND,
        says="'milk-line-cleaner'",
    ),
    Breakage(
        "rinse called by the name of the product",
        CLEAN,
        """\
  - move: waste-alkaline-bleach
    step: rinse-out
""",
        """\
  - move: milk-line-cleaner
    step: rinse-out
""",
        "not-what-it-says not-released",
        "rinse-out",
    ),
    Breakage(
        "product of the other side named",
        BLEED_DESCALER,
        """\
  - move: acid-descaler
    step: run-off
""",
        """\
  - move: grill-degreaser
    step: run-off
""",
        "never-meet not-what-it-says not-held not-dressed",
        "run-off",
    ),
    Breakage(
        "batch called finished without its acid",
        DESCALER,
        """\
  - add: lactic-acid-solution
    step: add-lactic
    to: tank-60
    with: D-jug-5-l
    amount: <lactic>
    how: weigh into the blue jug, then pour slowly down the wall
    second_person: yes
""",
        """\
  - do: Look at <lactic> in D-jug-5-l.
    step: add-lactic
    second_person: yes
""",
        "not-what-it-says",
        "stir-lactic",
        says="'tank-60'",
    ),
)
