"""All helpers and reports by name."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from tankside.quantities import (
    added_water,
    air,
    bleach,
    blending,
    contents,
    control_charts,
    density,
    dilution,
    lines,
    lots,
    packing,
    recipes,
    rinsing,
    spills,
    strengths,
    tanks,
    timing,
    titration,
    water,
)
from tankside.quantities.helper import Helper
from tankside.quantities.refusals import HelperUnknownError
from tankside.quantities.report import Report

HELPERS: Final[Mapping[str, Helper]] = MappingProxyType(
    {
        helper.name: helper
        for module in (
            dilution,
            added_water,
            strengths,
            blending,
            titration,
            density,
            bleach,
            recipes,
            lines,
            rinsing,
            spills,
            tanks,
            timing,
            contents,
            packing,
            air,
            water,
        )
        for helper in module.HELPERS
    }
)
REPORTS: Final[Mapping[str, Report]] = MappingProxyType(
    {report.name: report for module in (lots, control_charts) for report in module.REPORTS}
)
NAMED: Final[Mapping[str, Helper | Report]] = MappingProxyType({**HELPERS, **REPORTS})


def helper_named(name: str) -> Helper | Report:
    """Return the helper or report called ``name``; an unknown one is refused with a near miss."""
    if name not in NAMED:
        raise HelperUnknownError(name, NAMED)
    return NAMED[name]
