"""Recipes of the book, as the helpers take them."""

from pathlib import Path

from tankside.catalogue import Book, load
from tankside.compute.facts import quantity
from tankside.compute.trouble import CannotWorkOutError, standing_at
from tankside.loading.sources import Folder
from tankside.loading.values import Text
from tankside.problems import Problem, Span, meant
from tankside.quantities.recipe import Ingredient, Recipe
from tankside.units import Quantity


def recipe_of(book: Book, product_id: Text) -> Recipe:
    """Return the recipe of a product, in adding order.

    Raises:
        CannotWorkOutError: no such product, a share or density is no quantity, or the shares do not make 100 %.
    """
    product = book.products.products.get(product_id)
    if product is None:
        hint = meant(product_id, book.products.products, f"products are {', '.join(book.products.products)}")
        raise CannotWorkOutError(
            Problem(product_id.span, "name-unknown", f"'{product_id}' is not a known product", hint)
        )
    ingredients = tuple(
        Ingredient(str(line.ingredient), quantity(line.share, "mass fraction"), _density(book, line.ingredient))
        for line in product.recipe
    )
    with standing_at(product.recipe[0].share.span):
        return Recipe(str(product_id), _density(book, product.material), ingredients)


def _density(book: Book, material_id: Text) -> Quantity:
    return quantity(book.materials.materials[material_id].density, "mass concentration")


def recipe_from_folder(folder: Path, product: str) -> Recipe:
    """Return the recipe of a product of the book in `folder`.

    Raises:
        CannotWorkOutError: the folder holds no book that can be read, or the book has no such recipe.
    """
    loaded = load(Folder(folder))
    if loaded.book is None:
        raise CannotWorkOutError(loaded.problems[0])
    return recipe_of(loaded.book, Text(product, Span("product")))
