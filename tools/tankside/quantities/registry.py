"""All helpers by name."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from tankside.quantities import dilution, lines, recipes
from tankside.quantities.helper import Helper
from tankside.quantities.refusals import HelperUnknownError

HELPERS: Final[Mapping[str, Helper]] = MappingProxyType(
    {helper.name: helper for module in (dilution, recipes, lines) for helper in module.HELPERS}
)


def helper_named(name: str) -> Helper:
    """Return the helper called ``name``; an unknown one is refused with a near miss."""
    if name not in HELPERS:
        raise HelperUnknownError(name, HELPERS)
    return HELPERS[name]
