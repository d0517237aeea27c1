"""A signal word for people on what harms equipment or product alone."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.reading.harm import is_property_alone
from tankside.audit.reading.wording import cautions
from tankside.audit.rule import Family, Found, Weight, read, rule
from tankside.problems import quoted


@rule(
    Family.CAUTIONS,
    Weight.SHOULD,
    read("ANSI Z535.6", "with Z535.4", "NOTICE is for what is not related to injury, the other words are for people"),
)
def signal_word_for_property(audited: Audited) -> Iterator[Found]:
    """What harms equipment or product alone is a NOTICE.

    Looked at is the `harm` of each CAUTION, WARNING and DANGER. It counts when it names something of the plant or the
    batch and has no word that may be about people: no part of the body, no burn, splash, spray, fire, gas, fall.

    Where a caution may mean a bent shaft, the next one is not read for the hand that it is about.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - caution: The pump runs dry when the tank is empty.
            harm: Its bearings run hot and break.
            avoid: An ear on its sound.
            covers: [look]
          - do: Look at the tank.
            step: look

    Passes:
        # procedures/filling/example.yaml
        steps:
          - notice: The pump runs dry when the tank is empty.
            harm: Its bearings run hot and break.
            avoid: An ear on its sound.
            covers: [look]
          - do: Look at the tank.
            step: look
    """
    for at, caution in cautions(audited):
        if caution.kind != "notice" and is_property_alone(caution.harm):
            yield Found(
                at,
                caution.span,
                f"{caution.kind.upper()} is for people, and {quoted(caution.harm)} is not about them",
                "make it a 'notice', or say in 'harm' what it does to people",
            )
