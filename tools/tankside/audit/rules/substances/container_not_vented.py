"""A tight container for what gives off gas."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.substances import gives_off_gas
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted

#: what liquid is kept in
KEPT_IN = ("drum", "pail", "tank", "bottles")


@rule(
    Family.SUBSTANCES,
    Weight.MUST,
    practice("drums, pails, tanks and bottles of hypochlorite are vented; a tight one bulges, leaks and bursts"),
)
def container_not_vented(audited: Audited) -> Iterator[Found]:
    """What is kept in a drum, pail, tank or bottle and gives off gas is kept in a vented one.

    Looked at is each such piece that lists the material under `holds`. `vented: yes` means that gas gets out of it by
    itself: a vented bung, a lid that does not seal, an open vent. Jugs are open anyway. Valves and lines are not
    looked at: liquid that is trapped in a ball valve bursts it, too.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            gives_off_gas: yes

    Passes:
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            gives_off_gas: yes
        # procedures/plant/equipment.yaml
        equipment:
          tank-60:
            vented: yes
          pail-10-l:
            vented: yes
          waste-drum:
            vented: yes
    """
    materials = audited.plant.materials
    for tag, piece in audited.plant.equipment.equipment.items():
        gassing = [name for name in piece.holds if gives_off_gas(materials, materials.materials[name])]
        if gassing and piece.kind in KEPT_IN and piece.vented != "yes":
            span = tag.span if piece.vented is None else piece.vented.span
            message = f"{quoted(tag)} is not said to be vented, and {quoted(gassing[0])} in it gives off gas"
            yield Found(str(tag), span, message, "use a vented one, and write 'vented: yes'")
