"""Numbers in sentences: which of them measure something, and whether they have a unit."""

import json
import re
from collections.abc import Iterator
from importlib.resources import files

from tankside.units import UNITS

_TABLE = json.loads(files("tankside").joinpath("units.json").read_text(encoding="utf-8"))
_SPELLINGS = (
    *UNITS,
    *_TABLE["near"],
    *(spelling for entry in _TABLE["ambiguous"] for spelling in entry["spellings"]),
    *("% w/w", "% w/v", "% v/v", "°", "rpm", "Hz", "kWh", "mA", "J", "kJ", "N", "Nm", "dB", "lx", "mbar", "hPa"),
)
#: 'in' is more often a word than an inch; an inch that is written so is not found to be missing either
UNIT = "|".join(re.escape(each) for each in sorted(filter(None, _SPELLINGS), key=len, reverse=True))
NUMBER = r"[0-9]+(?:[.,][0-9]+)?"
#: words after which a number measures something, unless it counts things
LIMIT = (
    r"at most|at least|(?:no|not) (?:more|less) than|more than|less than|not (?:over|under|above|below)|up to"
    r"|below|above|within|between|from|exceeds?|reach(?:es)?|reads?|shows?|(?:stands?|stays?) at"
    r"|(?:falls?|rises?|drops?|climbs?) to|let go at"
    r"|(?:longer|higher|lower|deeper|warmer|hotter|colder|heavier|lighter|faster|slower|larger|smaller) than"
)
OR_MORE = r"or (?:more|less|higher|lower|above|below|over|under|warmer|colder)"
#: a number with its unit
MEASURED = re.compile(rf"(?<![\w.,:/-]){NUMBER} ?(?:{UNIT})(?![\w/])")
#: a number that is looked at: the words before it, it, and what follows
_LIMITED = re.compile(rf"\b(?P<before>{LIMIT})(?: about)? (?P<number>{NUMBER})(?![\w:/-]|[.,][0-9])(?P<after>.*)", re.I)
_HAS_UNIT = re.compile(rf" ?(?:{UNIT})(?![\w/])")
_RANGE = re.compile(rf" ?(?:and|to|or|-) ?{NUMBER}(?P<after>.*)")
_ENDS = re.compile(
    rf"(?: {OR_MORE})?(?:$|[.,;:!?)]|"
    r" (?:and|or|to|at|on|in|before|after|when|until|then|for|from|while|now|if|by|with|again|within|during|once)\b)"
)
#: acidity has no unit; the second is a place in a list, not a reading
_NO_UNIT = re.compile(r"\bpH\b|\b(?:start|begin|go on|again|back) (?:again )?(?:at|from)\b", re.IGNORECASE)


def without_unit(sentence: str) -> Iterator[str]:
    """Return the limits and readings of a sentence whose number has no unit, each as it is written.

    A number counts things when a noun follows it; nought is nought in any unit.
    """
    if _NO_UNIT.search(sentence):
        return
    for found in _LIMITED.finditer(sentence):
        after = found["after"]
        second = _RANGE.match(after)
        after = second["after"] if second else after
        if float(found["number"].replace(",", ".")) and not _HAS_UNIT.match(after) and _ENDS.match(after):
            yield f"{found['before']} {found['number']}"
