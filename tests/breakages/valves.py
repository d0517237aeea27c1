"""Valves that are shut where the step needs them open.

A pump that draws from a shut valve runs dry, one that presses on a shut valve runs against it; where the supply presses
by itself, the path is shut.
"""

from breakages.breakage import (
    BLEED,
    BLEED_DESCALER,
    BLEND,
    BY_HAND,
    CLEAN,
    CLEAN_DEGREASER,
    CLEAN_DESCALER,
    DEGREASER,
    DESCALER,
    Breakage,
)


def shut(path: str, valve: str, code: str, at: str, step: str = "", indent: int = 4) -> Breakage:
    """Return the breakage in which a valve is shut instead of opened; `step` is the name that the step gives itself."""
    named = f"{' ' * indent}step: {step or f'open-{valve.lower()}'}\n"
    old, new = f"- open: {valve}\n{named if step else ''}", f"- shut: {valve}\n{named}"
    says = f"'{valve}'" if code == "path-shut" else "P1' runs"
    return Breakage(f"{valve} shut instead of open for {at}", path, old, new, code, at, says=says)


VALVES = (
    shut(BLEED, "V2", "runs-dry", "start: P1"),
    shut(BLEED, "V3", "pump-shut", "start: P1"),
    shut(BLEED_DESCALER, "D-V1", "runs-dry", "start: D-P1"),
    shut(BLEED_DESCALER, "D-V3", "pump-shut", "start: D-P1"),
    shut(CLEAN, "V1", "path-shut", "rinse-in", "open-v1-first"),
    shut(CLEAN, "V2", "runs-dry", "start-p1-first", "open-v2-first"),
    shut(CLEAN, "V3", "pump-shut", "start-p1-first", "open-v3-first"),
    shut(CLEAN, "V1", "path-shut", "add-wash-water", "open-v1-wash"),
    shut(CLEAN, "V2", "runs-dry", "start-p1-wash", "open-v2-wash"),
    shut(CLEAN, "V4", "pump-shut", "start-p1-wash"),
    shut(CLEAN, "V3", "pump-shut", "start-p1-wash-out", "open-v3-wash"),
    shut(CLEAN, "V1", "path-shut", "rinse-again-in", "open-v1-rinse", indent=8),
    shut(CLEAN, "V2", "runs-dry", "start-p1-rinse", "open-v2-rinse", indent=8),
    shut(CLEAN, "V3", "pump-shut", "start-p1-rinse", "open-v3-rinse", indent=8),
    shut(CLEAN_DESCALER, "D-V2", "path-shut", "rinse-in", indent=8),
    shut(CLEAN_DESCALER, "D-V1", "runs-dry", "start: D-P1", indent=8),
    shut(CLEAN_DESCALER, "D-V3", "pump-shut", "start: D-P1", indent=8),
    shut(CLEAN_DEGREASER, "G-V1", "path-shut", "rinse-in", indent=8),
    shut(CLEAN_DEGREASER, "G-V2", "runs-dry", "start: G-P1", indent=8),
    shut(CLEAN_DEGREASER, "G-V3", "pump-shut", "start: G-P1", indent=8),
    shut(BLEND, "V1", "path-shut", "add-first-water", "open-v1-first"),
    shut(BLEND, "V1", "path-shut", "add-last-water", "open-v1-last"),
    shut(DESCALER, "D-V2", "path-shut", "add-water"),
    shut(DEGREASER, "G-V1", "path-shut", "add-water"),
    shut(BY_HAND, "V5", "pump-shut", "start-p1-bleed", "open-v5-bleed"),
    shut(BY_HAND, "V2", "runs-dry", "start-p1-bleed", "open-v2-bleed"),
    Breakage(
        "V5 opened beside V3, over nothing",
        BLEED,
        "  - start: P1\n",
        "  - open: V5\n  - start: P1\n",
        "path-branches",
        "run-off",
        says="'N2'",
    ),
)
