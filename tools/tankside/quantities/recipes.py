"""A recipe scaled to a batch."""

from types import MappingProxyType

from tankside.quantities.expression import Expression, Name
from tankside.quantities.helper import ABOVE_ZERO, RECIPE, Argument, Helper, Result, Trees, Variant, helper
from tankside.quantities.recipe import EACH


@helper(
    task="Mix a batch",
    arguments=(
        Argument("product", (RECIPE,), "product of the book", "descaler"),
        Argument("make", ("volume", "mass"), "size of the batch", "60 L", low=ABOVE_ZERO),
    ),
    results=(
        Result(f"{EACH}.mass", "kg", "nearest", "mass to weigh in", like=("make",)),
        Result(f"{EACH}.volume", "L", "nearest", "volume that mass has by itself", like=("make",)),
    ),
    variants=(
        Variant(
            MappingProxyType({"product": RECIPE, "make": "volume"}),
            stands_for=MappingProxyType({"make": Name("make") * Name("product.density")}),
        ),
        Variant(MappingProxyType({"product": RECIPE, "make": "mass"})),
    ),
)
def scale_recipe(make: Expression) -> Trees:
    """Return the mass and the volume of each ingredient of a batch, in adding order.

    ``mass = make * share``, ``volume = mass / density``; a batch given as a volume counts as
    ``make * product.density``.

    Args:
        product: a product of the book; its recipe gives each ingredient's share [%w/w] and density, and the
        density of the finished product.
        make: size of the batch [L or kg], above 0.

    Returns:
        <ingredient>.mass: mass to weigh in [unit of make when that is a mass, else kg].
        <ingredient>.volume: volume that mass has by itself [unit of make when that is a volume, else L].

    Raises:
        OutOfDomainError: the batch is not above 0, or the recipe's shares do not add up to 100 %w/w.

    Limits:
        the masses add up to the batch; the volumes need not, since liquids contract when mixed. The
        densities are those of the book, at the book's temperature: weigh where it matters.

    Source:
        mass balance; a share by mass is a mass over the mass of the whole.

    Example:
        tankside calc scale-recipe product=descaler make="60 L"
    """
    return {
        f"{EACH}.mass": make * Name(f"{EACH}.share"),
        f"{EACH}.volume": Name(f"{EACH}.mass") / Name(f"{EACH}.density"),
    }


HELPERS: tuple[Helper, ...] = (scale_recipe,)
