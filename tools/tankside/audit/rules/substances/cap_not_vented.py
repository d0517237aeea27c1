"""A tight cap on what gives off gas."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.substances import gives_off_gas
from tankside.audit.rule import Family, Found, Weight, practice, rule
from tankside.problems import quoted


@rule(
    Family.SUBSTANCES,
    Weight.MUST,
    practice("hypochlorite and peroxide are bottled under vented caps; under a tight one the bottle bursts"),
)
def cap_not_vented(audited: Audited) -> Iterator[Found]:
    """A product that gives off gas is closed with vented caps.

    A product gives off gas when it says so, or when it is of a group that stands for hypochlorite or peroxide and does
    not say no.

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
        # procedures/plant/products.yaml
        products:
          sample-cleaner:
            cap: vented
    """
    materials = audited.plant.materials
    for name, product in audited.plant.products.products.items():
        if product.cap != "vented" and gives_off_gas(materials, materials.materials[product.material]):
            message = f"{quoted(name)} has the cap {quoted(product.cap)}, and {quoted(product.material)} gives off gas"
            yield Found(str(name), product.cap.span, message, "write 'cap: vented', and buy only such caps for it")
