"""People without what protects them: equipment and air."""

from breakages.breakage import BLEED, BLEED_DESCALER, BLEND, DRESS, Breakage

PEOPLE = (
    Breakage(
        "face shield not on the list",
        BLEED,
        "wear: [boots, apron, splash-goggles, face-shield, alkali-gloves]\n",
        "wear: [boots, apron, splash-goggles, alkali-gloves]\n",
        "not-dressed",
        "run-off",
        says="face-shield not on",
    ),
    Breakage(
        "gloves of the other side",
        BLEED_DESCALER,
        "wear: [boots, apron, splash-goggles, face-shield, acid-gloves]\n",
        "wear: [boots, apron, splash-goggles, face-shield, alkali-gloves]\n",
        "not-dressed",
        "run-off",
        says="acid-gloves not on",
    ),
    Breakage(
        "gloves off before the pail is poured",
        BLEED,
        """\
  - do: Carry the pail to the red waste drum, lid on.
    step: carry-pail
""",
        """\
  - do: Carry the pail to the red waste drum, lid on.
    step: carry-pail
    leaves:
      - alkali-gloves off
""",
        "not-dressed",
        "pour-pail",
        says="alkali-gloves not on",
    ),
    Breakage(
        "nobody dressed",
        BLEED_DESCALER,
        """\
    leaves:
      - alkali-gloves off
      - wear on
""",
        "",
        "not-dressed",
        "run-off",
        says="face-shield",
    ),
    Breakage(
        "goggles not put on, and looked at",
        DRESS,
        """\
    leaves:
      - splash-goggles on
""",
        "",
        "not-as-believed",
        "no-skin",
        says="wear on",
    ),
    Breakage(
        "exhaust not asked for",
        BLEED,
        "prerequisites: [exhaust-proved, eyewash-clear,",
        "prerequisites: [eyewash-clear,",
        "air-not-proved",
        "measure: Conductivity of the last runnings",
        says="'exhaust-1'",
    ),
    Breakage(
        "exhaust not asked for at the tank",
        BLEND,
        "prerequisites: [exhaust-proved, eyewash-clear,",
        "prerequisites: [eyewash-clear,",
        "air-not-proved",
        "test-hypochlorite-strength",
        says="'exhaust-1'",
    ),
    Breakage(
        "exhaust stopped before the hatch is opened",
        BLEND,
        """\
  - record: Drum lot, reading and time
    where: On the batch sheet
    step: record-drum-strength
""",
        """\
  - stop: exhaust-1
    step: record-drum-strength
""",
        "air-not-proved",
        "unclamp-hatch",
        says="'exhaust-1'",
    ),
)
