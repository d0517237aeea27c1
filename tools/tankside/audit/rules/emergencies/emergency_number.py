"""An emergency procedure that does not call for help."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.emergency import UNWRITTEN, calls
from tankside.audit.reading.wording import in_english
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.problems import quoted


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read("29 CFR 1910.38", "(c)(1)", "an emergency plan says how a fire or other emergency is reported"),
    practice("the number stands in every emergency procedure, because nobody turns pages then"),
)
def emergency_number(audited: Audited) -> Iterator[Found]:
    """Each emergency procedure tells people to call the emergency number of the book.

    Looked at are the sentences of the steps, of what `leave_if` leads to, and of what is done when it goes wrong:
    one of them must say the number that stands in book.yaml, and that it is called. Any other number does not
    count.

    A number that has not been written yet, such as one in brackets that asks for it, is a finding as well.

    Fails:
        # procedures/safety/splash.yaml
        steps:
          - do: Rinse for 15 minutes or more.

    Passes:
        # procedures/safety/splash.yaml
        steps:
          - do: Rinse for 15 minutes or more.
          - do: Call 911. Say the address and the name on the label.
    """
    number = audited.plant.facts.emergency_number
    if UNWRITTEN.search(number):
        yield Found("book", number.span, f"the emergency number is {quoted(number)}", "write the number that is called")
        return
    for procedure in in_english(audited):
        if procedure.is_emergency and not calls(procedure, number):
            name = procedure.procedure
            message = f"{quoted(name)} does not say that {quoted(number)} is called"
            yield Found(str(name), name.span, message, f"write a step 'Call {number}', or who calls it from where")
