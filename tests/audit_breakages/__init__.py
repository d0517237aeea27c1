"""Breakages of the demo book for the audit, and harmless changes; one module for each family of rules."""

from audit_breakages.breakage import Breakage, Harmless

__all__ = ["BREAKAGES", "HARMLESS", "Breakage", "Harmless"]

from importlib import import_module
from pathlib import Path

_FAMILIES = sorted(
    path.stem for path in Path(__file__).parent.glob("[a-z]*.py") if path.stem not in ("breakage", "judging")
)
_MODULES = [import_module(f"audit_breakages.{name}") for name in _FAMILIES]
#: family, breakage
BREAKAGES: tuple[tuple[str, Breakage], ...] = tuple(
    (name, each) for name, module in zip(_FAMILIES, _MODULES, strict=True) for each in module.BREAKAGES
)
HARMLESS: tuple[tuple[str, Harmless], ...] = tuple(
    (name, each) for name, module in zip(_FAMILIES, _MODULES, strict=True) for each in module.HARMLESS
)
