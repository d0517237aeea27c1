"""What is said of an event that the rules of its edition would have refused."""

from collections.abc import Mapping

#: code of a refusal -> what the event did, as the end of a sentence that begins with its name
REFUSED: Mapping[str, str] = {
    "already-started": "begins the work a second time",
    "not-started": "stands before the work was begun",
    "people-missing": "leaves nobody who works",
    "person-twice": "brings in initials that are in use already",
    "second-person-missing": "was entered without the second person who must be there",
    "lot-missing": "begins work on a lot without naming one",
    "bottle-missing": "begins labelling without naming a bottle of the edition",
    "input-missing": "begins without a number that the edition asks for",
    "input-outside": "chooses a number outside the range of the edition",
    "who-unknown": "was entered by initials that were not at work then",
    "wrong-role": "was entered in a role that may not do this here",
    "ended": "was entered after the work had ended",
    "given": "was entered while the work waited to be taken over",
    "paused": "was entered while the work was paused",
    "reason-missing": "gives no reason where one must stand",
    "no-such-step": "is about a step to which the way had not led",
    "done-already": "is about a step that was done already",
    "not-next": "is about a step whose turn it was not",
    "wrong-kind": "is about a step with which this cannot be done",
    "begun-already": "begins a step that was begun already",
    "marked-already": "marks a step that was marked already",
    "answer-unknown": "gives an answer that the step does not know",
    "not-begun": "ends a wait that was not begun",
    "label-not-read": "was entered before the right label was read",
    "no-number": "has no number that the step can take",
    "over": "puts more in where too much was in already",
    "read-already": "reads a second time, though the first value counts",
    "wrong-instrument": "reads on another instrument than the step names",
    "out-of-calibration": "uses an instrument whose calibration had run out",
    "not-checked": "uses an instrument that was not compared with its standard that day",
    "not-outside": "goes on as after a reading outside, and there was none",
    "counted-already": "counts a second time, though the first count is there",
    "nothing-to-check": "looks a second time at a step where nothing was to be looked at",
    "same-person": "was entered by the person who must not be the same",
    "nothing-to-allow": "allows what needed no allowing",
    "cannot-be-skipped": "leaves out a step that nobody may leave out",
    "cannot-be-changed": "changes a step that nobody may do in another way",
    "corrected-already": "corrects an entry that was corrected already",
    "nothing-to-correct": "corrects what cannot be corrected",
    "past-a-hold": "takes back a mark from before a hold that was released",
    "not-paused": "goes on with work that was not paused",
    "not-given": "takes over work that nobody gave",
    "not-through": "ends the work before its last step",
}
_ANYWAY = "no page of tankside enters this, so another program wrote it, or another version"
_ROLE = "a role is what somebody says of himself; find out who did it, and whether that person may"
#: refusals that an auditor asks for by themselves -> code of the problem, what to do about it
OF_ITS_OWN: Mapping[str, tuple[str, str]] = {
    "wrong-role": ("record-wrong-role", _ROLE),
    "same-person": ("record-same-person", "look once more at what was to be checked; this check was none"),
}


def problem_of(refusal: str) -> tuple[str, str, str]:
    """Return the code of a problem for a refusal, what the event did, and what to do about it."""
    code, hint = OF_ITS_OWN.get(refusal, ("record-refused", f"{_ANYWAY}; ask who was there what was done"))
    return code, REFUSED[refusal], hint
