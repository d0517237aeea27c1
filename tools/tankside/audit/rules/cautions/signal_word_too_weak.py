"""A signal word that plays a hazard down."""

from collections.abc import Iterator, Mapping

from tankside.audit.audited import Audited, Placed, placed
from tankside.audit.reading.covering import is_covered
from tankside.audit.reading.harm import WORDS, is_weaker, least_for, least_said
from tankside.audit.reading.wording import cautions
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.model.steps import Caution
from tankside.problems import Span, quoted


@rule(
    Family.CAUTIONS,
    Weight.MUST,
    read("ANSI Z535.6", "with Z535.4", "DANGER will and WARNING could kill or injure seriously, CAUTION moderately"),
    read("ANSI Z535.6", "with Z535.4", "a NOTICE is not about injury; combined hazards take the word of the worst"),
    practice("which hazard statements and which words are serious is judged by what they say of the body"),
)
def signal_word_too_weak(audited: Audited) -> Iterator[Found]:
    """A signal word is no weaker than the harm: WARNING or DANGER where it could kill, blind or burn.

    Two things ask for a word. What may reach the person at the steps that a caution covers, by the dry run: a hazard
    statement such as H314 (burns) or H318 (eye damage) asks for WARNING, one such as H315 or H319 (irritation) for
    CAUTION. And the words of `harm`: to kill, to blind, to crush hands, to burn lungs ask for WARNING; to irritate,
    to bruise, to burn skin ask for CAUTION at least, so a NOTICE with one of them is too weak.

    A step that several cautions cover is judged by the strongest. A stronger word than needed is left alone.

    Fails:
        # procedures/filling/example.yaml
        steps:
          - caution: The concentrate splashes.
            harm: It burns eyes and skin and can blind.
            avoid: Face away from the stream, goggles on.
            covers: [pour-off]
          - do: Pour the concentrate off into its drum.
            step: pour-off
            exposes: [sample-concentrate]

    Passes:
        # procedures/filling/example.yaml
        steps:
          - warning: The concentrate splashes.
            harm: It burns eyes and skin and can blind.
            avoid: Face away from the stream, goggles on.
            if_it_happens: splash
            covers: [pour-off]
          - do: Pour the concentrate off into its drum.
            step: pour-off
            exposes: [sample-concentrate]
    """
    for procedure in audited.procedures:
        judged: set[Span] = set()
        for each in placed(procedure):
            weak = _weak_at(audited, audited.exposed(procedure), each)
            if weak is not None and weak[0].span not in judged:
                judged.add(weak[0].span)
                yield _found(str(procedure.procedure), *weak)
    for at, caution in cautions(audited):
        word, said = least_said(caution.harm)
        if is_weaker(caution.kind, word):
            yield _found(at, caution, word, f"{quoted(said)} in its harm asks for {word.upper()}")


def _weak_at(audited: Audited, exposed: Mapping[str, frozenset[str]], each: Placed) -> tuple[Caution, str, str] | None:
    """Return the strongest caution of a step when it is too weak, with the word that fits, and why."""
    if not is_covered(each):
        return None
    caution = max(each.cautions, key=lambda caution: WORDS.index(caution.kind))
    for name, material in audited.plant.materials.materials.items():
        word = least_for(material)
        if name in exposed.get(str(each.step.name), ()) and is_weaker(caution.kind, word):
            why = f"step {quoted(each.step.name)} exposes to {quoted(name)}, which asks for {word.upper()}"
            return caution, word, why
    return None


def _found(at: str, caution: Caution, word: str, why: str) -> Found:
    message = f"{caution.kind.upper()} is too weak for {quoted(caution.hazard)}: {why}"
    return Found(at, caution.span, message, f"write '{word}' in place of '{caution.kind}', or part what is covered")
