"""The day that an audit is about."""

import os
from datetime import UTC, date, datetime

#: seconds since 1970, by which a build can be made again to the byte (reproducible-builds.org)
EPOCH = "SOURCE_DATE_EPOCH"


def today() -> date:
    """Return the day of SOURCE_DATE_EPOCH where it is set, else that of the clock."""
    given = os.environ.get(EPOCH, "")
    return datetime.fromtimestamp(int(given), UTC).date() if given.isdigit() else datetime.now().astimezone().date()
