"""Hypochlorite or peroxide that is not said to give off gas."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.substances import GASSING, is_of
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.SUBSTANCES,
    Weight.MUST,
    practice("hypochlorite and peroxide give off oxygen while they are kept, the more the warmer they are"),
)
def gas_not_stated(audited: Audited) -> Iterator[Found]:
    """A hypochlorite or peroxide says that it gives off gas.

    Looked at are raw materials and products of a group that stands for hypochlorite or peroxide. `gives_off_gas` must
    be there and be yes: everybody who chooses a cap or a container looks for it. Wastes may say no, when so little is
    left in them that no pressure builds up.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            groups: [bleaches]

    Passes:
        # procedures/plant/materials.yaml
        materials:
          sample-cleaner:
            groups: [bleaches]
            gives_off_gas: yes
    """
    materials = audited.plant.materials
    for name, each in materials.materials.items():
        if each.kind in ("raw", "product") and is_of(materials, each, GASSING) and each.gives_off_gas != "yes":
            span = name.span if each.gives_off_gas is None else each.gives_off_gas.span
            message = f"{quoted(name)} is a hypochlorite or peroxide, and is not said to give off gas"
            yield Found(str(name), span, message, "write 'gives_off_gas: yes'")
