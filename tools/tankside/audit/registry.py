"""All rules: each module of `rules/<family>/` holds one, under the name of the module."""

from importlib import import_module
from pkgutil import walk_packages

from tankside.audit import rules
from tankside.audit.rule import Family, Rule


def _rules() -> tuple[Rule, ...]:
    found = []
    for module in walk_packages(rules.__path__, f"{rules.__name__}."):
        if not module.ispkg:
            made = getattr(import_module(module.name), module.name.rpartition(".")[2])
            assert isinstance(made, Rule), module.name
            found.append(made)
    order = list(Family)
    return tuple(sorted(found, key=lambda each: (order.index(each.family), each.code)))


#: family by family, in alphabetical order within
RULES = _rules()
