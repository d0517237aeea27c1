"""The page of formulas says what each one is checked against, and says the truth."""

import json

from evidence import EVIDENCE, evidence

from tankside.quantities.registry import NAMED


def test_evidence_is_up_to_date() -> None:
    # Otherwise run tests/evidence.py.
    assert json.loads(EVIDENCE.read_text(encoding="utf-8")) == evidence()


def test_every_helper_is_on_the_list() -> None:
    assert set(evidence()) == set(NAMED)
