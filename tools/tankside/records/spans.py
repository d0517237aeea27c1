"""Spans of time, and ranges of values, in words."""

from tankside.quantities.decimal_text import quantity_text
from tankside.units import Quantity


def time_in_words(milliseconds: int) -> str:
    """Return a span of time as people say it, to the second; what is shorter than that, to the millisecond."""
    if abs(milliseconds) < 1000:
        return f"{milliseconds} ms"
    sign, seconds = "-" if milliseconds < 0 else "", abs(milliseconds) // 1000
    units = ((seconds // 3600, "h"), (seconds // 60 % 60, "min"), (seconds % 60, "s"))
    return sign + " ".join(f"{count} {unit}" for count, unit in units if count)


def range_in_words(low: Quantity | None, high: Quantity | None) -> str:
    """Return the ends of a range, or the one that there is."""
    if low is not None and high is not None:
        return f"{quantity_text(low)} to {quantity_text(high)}"
    return f"at least {quantity_text(low)}" if low is not None else f"at most {quantity_text(high)}" if high else "none"
