"""The rules of writing on sentences: published examples, ordinary English of a workshop, and what must be found."""

from collections.abc import Iterable
from datetime import date
from pathlib import Path

import pytest
from demo_book import overlaid, replace

from tankside.audit import RULES, Family, audit_of
from tankside.checkup import read_book

BASE = Path(__file__).parent / "audited"
DAY = date(2026, 12, 1)
WRITING = tuple(rule for rule in RULES if rule.family is Family.WRITING)
LONG = tuple(rule for rule in WRITING if rule.code == "sentence-long")
CAUTIONS = tuple(rule for rule in RULES if rule.code == "caution-holds-step")
RINSE = "procedures/cleaning/rinse-tank.yaml"
ZERO = "do: Set the counter of meter-1 to zero."
EXAMPLE = """\
procedure: example
title: An example
family: filling
situation: filling
revision: 1
effective: 2026-11-01
review: 2027-11-01
approved: workshop-lead
purpose: It shows what the rules of writing look at.
scope: Tests only.
done_by: operator
second_person: in the room
stop_safely: Step back, call the second person.
steps:
{steps}
if_it_goes_wrong:
  - sign: Water on the floor
    do: Call the lead.
sources:
  - Common practice, no source.
history:
  - revision: 1
    date: 2026-11-01
    change: First issue.
"""


def found_in(book: Path, rules: Iterable[object] = WRITING) -> list[tuple[str, str, int]]:
    """Return the code, the file and the line of whatever is found."""
    read = read_book(book)
    assert read.rehearsal is not None, "\n".join(each.as_text() for each in read.problems)
    findings = audit_of(read.rehearsal, DAY, tuple(rules)).findings
    return [(each.rule.code, each.found.span.path, each.found.span.line) for each in findings]


def found_in_steps(steps: tuple[str, ...], folder: Path) -> list[tuple[str, str]]:
    """Return the code and the step of what is found in a procedure of these steps, each written as in a file."""
    book = overlaid(BASE, folder / "book")
    file = book / "procedures/filling/example.yaml"
    file.parent.mkdir()
    listed = "\n".join(written(number, step) for number, step in enumerate(steps))
    file.write_text(EXAMPLE.format(steps=listed), encoding="utf-8", newline="\n")
    first = EXAMPLE.split("{steps}")[0].count("\n") + 1
    here = [(code, line) for code, path, line in found_in(book) if path.endswith("example.yaml")]
    return [(code, steps[(line - first) // 2]) for code, line in here]


def written(number: int, step: str) -> str:
    """Return a step in its two lines; a note has no name."""
    kind, _, text = step.partition(": ")
    return f'  - {kind}: "{text}"\n    {"# " if kind == "note" else ""}step: step-{number}'


def test_sentence_of_twenty_words_passes_and_one_of_twenty_one_is_found(tmp_path: Path) -> None:
    # ASD-STE100, rule 5.1: at most 20 words in a sentence of a procedure
    twenty = "Turn the small knurled ring on the glass of meter-1 back to zero with a dry and bare hand, slowly."
    book = overlaid(BASE, tmp_path / "book")
    replace(book / RINSE, ZERO, f"do: {twenty}")
    assert found_in(book, LONG) == []
    replace(book / RINSE, twenty, twenty.replace("slowly", "not quickly"))
    assert [code for code, _, _ in found_in(book, LONG)] == ["sentence-long"]


def test_condition_first_with_an_acidity_passes(tmp_path: Path) -> None:
    # condition first, then the action: as a published guide to procedures writes it, acidity without a unit
    book = overlaid(BASE, tmp_path / "book")
    before = found_in(book)
    replace(book / RINSE, ZERO, "do: If pH is below 6 or above 10, then notify the lead.")
    assert found_in(book) == before


def test_timed_step_without_what_to_do_when_it_is_late_is_refused(tmp_path: Path) -> None:
    # DOE-STD-1029-92: a timed step says what to do when its time was missed
    book = overlaid(BASE, tmp_path / "book")
    replace(book / "procedures/batch/blend-sample-batch.yaml", "    if_late: Nothing is harmed.\n", "")
    assert [problem.code for problem in read_book(book).problems] == ["key-missing"]


def test_caution_with_an_order_is_found(tmp_path: Path) -> None:
    # DOE-STD-1029-92, section 4, from memory: a caution contains no action
    book = overlaid(BASE, tmp_path / "book")
    assert found_in(book, CAUTIONS) == []
    replace(book / RINSE, "avoid: Goggles on, the end of N1", "avoid: Shut V2 first. Goggles on, the end of N1")
    assert [code for code, _, _ in found_in(book, CAUTIONS)] == ["caution-holds-step"]


#: what a lead may well write, and no rule of writing minds
ORDINARY = """
do: Decant the liquid into the clean jug.
do: Nip up the union by a quarter turn.
do: Top the tank up to the mark with softened water.
do: Take a clean cloth from the box on the shelf.
do: Set the regulator to 2 bar.
do: Warm the bottle in your hands for 2 min.
do: Before you open the drum, put on the face shield.
do: When the counter shows 20 L, shut V1.
do: With dry hands, push the plug into its socket.
do: After 10 min, read the thermometer.
do: Slowly open V3 to the stop.
do: Using both hands, lift the lid straight up.
do: To drain the pump, loosen its plug by one turn.
do: For each bottle, press a cap on by hand.
do: Second person: hold the ladder.
do: Tare the scale with the empty cup on it.
do: Can the sample with a tight lid on it.
do: Weigh the can.
do: Have the second person read the lot aloud.
do: Bring the waste list and the pen to the drum.
do: Make sure that the hatch is clamped.
do: Let the pump run for 10 s.
do: Never lift the drum alone.
do: Do not open V2 yet.
do: If there is foam, wait until it has fallen.
do: Once the tank is empty, stop P1.
do: As soon as the line runs clear, shut V3.
do: While P1 runs, watch the sight tube.
do: Screw the cap on hand-tight and wipe it dry.
do: Unhook the hose and hang it up.
do: Take out the filter, rinse it, put it back.
do: Roll the drum onto the scale and leave it there.
do: Press and hold the green button for 3 s.
do: Wash, rinse and dry the cup.
do: Check and record the level.
do: Look and listen for leaks.
do: Ask the second person to open V2 and start P1.
do: Show the new hire how you lift and carry a can.
do: Tell the lead that the pump hums and the belt slips.
do: Stir until the powder has dissolved and the liquid is clear.
do: Record date, time and lot.
do: Place a drip tray, pail and cloth under the joint.
do: Seal the sample bottle with tape and label.
do: Hang the sign 'WET FLOOR' at the door.
do: Turn the switch to OFF.
do: Press a stop only if it is on your way.
do: Look whether the seal is whole, and if it is torn, call the lead.
do: Take 3 samples, 2 bottles at most from each carton.
do: Wait for 2 to 3 min.
do: Go back to step 4 of the list, and start again from 1.
do: Blow on the strip, without touching it.
check: The counter shows 5 bottles or more. At least 2 caps are left.
check: The sight tube stands between 40 and 60 L. No drop hangs at N1.
check: Read the label aloud, its lot too. Feel the pipe with a dry hand.
check: The thermometer shows 20 °C to 25 °C. The pH paper is above 7.
check: Each drum is in its bay, vent open, tap shut, label to the front.
check: No DO NOT OPERATE tag hangs here, and nothing drips.
note: The pump is loud at first. About 2 L stay in the line, and a rise of 4 °C is usual.
note: Rinse water gets cloudy when hard water is used. Label stock lies in the drawer.
"""
#: what must be found, by the rule whose code stands first
WRONG = """
not-verb-first: do: You must shut V2.
not-verb-first: do: The operator opens V2.
not-verb-first: do: V2 is opened.
not-verb-first: do: Opening of V2.
not-verb-first: do: Valve V2 is to be shut.
not-verb-first: do: Somebody holds the cup.
not-verb-first: do: There is a pail under N1.
not-verb-first: do: It is necessary to stir.
not-verb-first: do: If P1 runs press its stop.
not-verb-first: do: When the tank is full, the water is off.
two-actions: do: Open V2 and start P1.
two-actions: do: Open V2. Start P1.
two-actions: do: Open V2, then start P1.
two-actions: do: Shut V2 and lock it.
two-actions: do: Take the jug, fill it, pour it into the tank and wipe the step.
two-actions: do: If the tank is empty, shut V2 and stop P1.
two-actions: do: Unclip the hose and roll the drum back.
two-actions: do: Put the lid on; carry the pail to the drum.
two-actions: do: Turn the handle to let the water run, then shut V2.
condition-last: do: Shut V2 if it is open.
condition-last: do: Press its stop, if P1 runs.
condition-last: do: Call the lead unless it is clear.
limit-without-unit: do: Let the water run until the counter shows 25.
limit-without-unit: check: The sight tube stands between 40 and 60.
limit-without-unit: check: The gauge reads 1.5 or less.
limit-without-unit: do: Rinse for not more than 20.
limit-without-unit: do: Stir for longer than 5, slowly.
instrument-unnamed: check: The water in the tank is at 30 °C or less.
instrument-unnamed: do: Fill the jug with water of 35 °C.
step-in-note: note: The pump is loud at first. Shut V2 when it gets louder.
step-in-note: note: If it smells, leave the room.
step-in-note: note: The water is at 30 °C or less.
vague-amount: do: Rinse the cup with some water.
vague-amount: do: Stir until it is sufficiently clear.
vague-amount: do: Add approximately one cup of salt.
vague-amount: check: The light is adequate.
vague-amount: do: Top up as needed.
order-softened: do: Please shut V2.
order-softened: do: Try to hold the cup upright.
order-softened: check: V2 should be shut.
double-negative: check: No valve is not shut.
double-negative: do: Do not open V2 unless you are told to.
double-negative: check: Nothing is left unlocked.
and-or-mixed: do: If V2 is open and P1 runs or hums, press the stop of P1.
abbreviation-undefined: do: Put your PPE on.
abbreviation-undefined: do: Look at V19.
action-in-check: check: Wipe the sight tube. It stands at the mark.
action-in-check: check: If the tube is dull, wipe it with a cloth.
"""


def lines(text: str) -> tuple[str, ...]:
    return tuple(text.strip().splitlines())


def test_ordinary_steps_are_not_minded(tmp_path: Path) -> None:
    assert found_in_steps(lines(ORDINARY), tmp_path) == []


@pytest.mark.requirement(number=16)
def test_each_bad_step_is_found_by_its_rule(tmp_path: Path) -> None:
    expected = [(code, step) for code, _, step in (line.partition(": ") for line in lines(WRONG))]
    found = found_in_steps(tuple(step for _, step in expected), tmp_path)
    assert [each for each in expected if each not in found] == []
