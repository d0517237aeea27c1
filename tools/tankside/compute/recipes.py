"""Recipes of the book, as the helpers take them."""

from pathlib import Path

from tankside.catalogue import Loaded, load
from tankside.compute.facts import quantity
from tankside.compute.trouble import CannotWorkOutError, NotResolvedError, standing_at
from tankside.loading.sources import Folder
from tankside.loading.values import Text
from tankside.model.facts import Plant
from tankside.problems import Problem, Severity, Span, meant, quoted
from tankside.quantities.recipe import Ingredient, Recipe
from tankside.units import Quantity


def recipe_of(plant: Plant, product_id: Text) -> Recipe:
    """Return the recipe of a product, in adding order.

    Raises:
        CannotWorkOutError: a share or density is no quantity, or the shares do not make 100 %.
        NotResolvedError: no such product, or a material of its recipe is not defined.
    """
    product = plant.products.products.get(product_id)
    if product is None or not product.recipe:
        raise NotResolvedError
    ingredients = tuple(
        Ingredient(
            str(line.ingredient),
            quantity(line.share, "mass fraction", sign="above 0"),
            _density(plant, line.ingredient),
        )
        for line in product.recipe
    )
    with standing_at(product.recipe[0].share.span):
        return Recipe(str(product_id), _density(plant, product.material), ingredients)


def _density(plant: Plant, material_id: Text) -> Quantity:
    if material_id not in plant.materials.materials:
        raise NotResolvedError
    return quantity(plant.materials.materials[material_id].density, "mass concentration", sign="above 0")


class BookHasProblemsError(CannotWorkOutError):
    """The recipe cannot be read, because the book has problems; one of them is carried along."""


def recipe_from_folder(folder: Path, product: str) -> Recipe:
    """Return the recipe of a product of the book in `folder`.

    Raises:
        BookHasProblemsError: the book, or what it says of this product, has errors.
        CannotWorkOutError: the folder holds no book, or the book has no such product.
    """
    loaded = load(Folder(folder))
    if loaded.book is None:
        first = first_error(loaded)
        raise CannotWorkOutError(first) if loaded.count == 0 else BookHasProblemsError(first)
    products = loaded.book.plant.products.products
    wanted = Text(product, Span("product"))
    if wanted not in products:
        hint = meant(product, products, f"products are {', '.join(products)}")
        message = f"{quoted(product)} is not a known product"
        raise CannotWorkOutError(Problem(wanted.span, "name-unknown", message, hint))
    try:
        return recipe_of(loaded.book.plant, wanted)
    except CannotWorkOutError as error:
        raise BookHasProblemsError(error.problem) from error
    except NotResolvedError as error:
        raise BookHasProblemsError(first_error(loaded)) from error


def first_error(loaded: Loaded) -> Problem:
    return next(problem for problem in loaded.problems if problem.severity is Severity.ERROR)
