"""Words that the wording of a step is judged by: closed lists, in `verbs.json`, each with what it is for."""

import json
from importlib.resources import files
from typing import Final

_TABLE: Final = json.loads(files("tankside.audit.reading").joinpath("verbs.json").read_text(encoding="utf-8"))


def _words(name: str) -> frozenset[str]:
    return frozenset(word for line in _TABLE[name]["words"] for word in line.split())


CLEAR_VERBS: Final = _words("verbs")
OTHER_VERBS: Final = _words("verbs that are nouns or adjectives, too")
VERBS: Final = CLEAR_VERBS | OTHER_VERBS
KINDS_OF_STEP: Final = _words("kinds of step")
STAYING: Final = _words("staying")
LOOKING: Final = _words("looking")
LEADS: Final = _words("leads")
OPENERS: Final = _words("openers")
NO_VERBS: Final = _words("no verbs")
FINITE: Final = _words("finite")
SUBORDINATING: Final = _words("subordinating")
DETERMINERS: Final = _words("determiners")
PRONOUNS: Final = _words("pronouns")
NOTHING: Final = _words("nothing")
