"""A caution about a hazardous liquid without a word on what to do when it happens."""

from collections.abc import Iterator

from tankside.audit.audited import Audited
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.model.steps import Caution, every
from tankside.problems import quoted


@rule(
    Family.CAUTIONS,
    Weight.SHOULD,
    read("29 CFR 1910.119", "(f)(1)(iii)", "procedures say what is done after contact; law for large plants only"),
    practice("who is hurt has no time to look for the page"),
)
def caution_without_response(audited: Audited) -> Iterator[Found]:
    """A caution about what may reach people says which emergency procedure follows when it does.

    Looked at is `if_it_happens` of each CAUTION that covers a step where, by the dry run, a hazardous material may
    reach the person. A material counts when its label has a signal word. A WARNING and a DANGER cannot be written
    without it, and other cautions, of a heavy drum, may do without.

    Pages and sheets lead from there to the emergency with one touch. Whether what it names is an emergency is another
    rule, `if-it-happens-not-emergency`.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - caution: The cup drips.
            harm: It irritates the skin.
            avoid: Gloves on, the cup held low.
            covers: [empty-cup]
          - do: Empty the cup into its drum.
            step: empty-cup
            exposes: [sample-cleaner]

    Passes:
        # procedures/filling/example.yaml
        steps:
          - caution: The cup drips.
            harm: It irritates the skin.
            avoid: Gloves on, the cup held low.
            if_it_happens: splash
            covers: [empty-cup]
          - do: Empty the cup into its drum.
            step: empty-cup
            exposes: [sample-cleaner]
    """
    for procedure in audited.procedures:
        exposed = audited.exposed(procedure)
        for item in every(procedure.steps):
            if isinstance(item, Caution) and item.kind == "caution" and item.if_it_happens is None:
                met = sorted({name for step in item.covers for name in exposed.get(str(step), ())})
                if met:
                    message = f"{quoted(item.hazard)} does not say what to do when {', '.join(met)} reaches somebody"
                    yield Found(
                        str(procedure.procedure),
                        item.span,
                        message,
                        "name the emergency procedure under 'if_it_happens'",
                    )
