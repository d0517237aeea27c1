"""What goes wrong when bottles are filled: nothing under the nozzle, no liquid, a filler that does not stop."""

from breakages.breakage import FILL, Breakage
from breakages.valves import shut

#: how filling a carton ends
FULL_CARTON = """\
    until: the carton is full, or the sight tube stands a hand above the red line
    leaves:
      - P1 stopped
      - V3 shut
"""

BOTTLES = (
    shut(FILL, "V2", "runs-dry", "first-pedal", "open-v2"),
    Breakage(
        "pedal pressed with no bottle under the nozzle",
        FILL,
        """\
    step: n1-in-neck
    exposes: [milk-line-cleaner]
    leaves:
      - N1 joined to red-bottles
""",
        """\
    step: n1-in-neck
    exposes: [milk-line-cleaner]
""",
        "open-end",
        "press-pedal",
        says="'N1'",
    ),
    Breakage(
        "filler that lets the pump run when the carton is full",
        FILL,
        FULL_CARTON,
        FULL_CARTON.replace("      - P1 stopped\n", ""),
        # Whoever fills watches the pump. The next step must stop it, for nobody knows how much is left in the tank.
        "runs-dry",
        "tail-in-clip",
        says="'P1'",
    ),
    Breakage(
        "carton begun with the tank not looked at",
        FILL,
        """\
    step: enough-in-tank
    finds:
      - tank-250 at least 10 L
""",
        """\
    step: enough-in-tank
""",
        "runs-dry",
        "press-pedal",
        says="'P1'",
    ),
    Breakage(
        "filler that stops the pump and leaves its valve open",
        FILL,
        FULL_CARTON,
        FULL_CARTON.replace("      - V3 shut\n", ""),
        # The tank stands above the bench, and V2 is open.
        "open-end",
        "tail-in-clip",
        says="'tank-250' is open",
    ),
)
