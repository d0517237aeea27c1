"""Days of the book, and what lies so many days or years away from them."""

from calendar import isleap
from datetime import date, timedelta

from tankside.loading.values import Text

#: how long before its day something is spoken of
SOON = timedelta(days=30)


def day_of(text: Text) -> date:
    """Return the day that a text names; `check` refuses what is not in the calendar."""
    return date.fromisoformat(text)


def is_soon(text: Text, today: date) -> bool:
    """Return whether a day is today or at most 30 days ahead."""
    return today <= day_of(text) <= today + SOON


def years_after(day: date, years: int) -> date:
    """Return the same day of a later year; 1 March where that year has no 29 February."""
    year = day.year + years
    return date(year, 3, 1) if (day.month, day.day) == (2, 29) and not isleap(year) else day.replace(year=year)
