"""Our index against the one that the package lunr makes of the same documents."""

import json

from lunr import get_default_builder, lunr

from tankside.render_site.lunr_index import index, terms

BOOSTS = {"title": 10, "tags": 5, "text": 1}
DOCUMENTS = (
    {
        "title": "Bleed the filling-line",
        "tags": "V2 P1 D-V1",
        "text": "open the outlet valve slowly, and watch 0.5 litres run off; the pail's rim is (not) a mark",
    },
    {"title": "Splash in the eyes", "tags": "", "text": "rinse both eyes with water for a quarter of an hour"},
    {
        "title": "Weigh in the alkali",
        "tags": "SC-1",
        "text": "the drum, its lot and its label are read back; water first",
    },
    {"title": "Das Ventil öffnen", "tags": "V2", "text": "ein wort über größe und naïve café"},
)


def without_inflections(text: str) -> str:
    """Return a text in which no two words have one stem: ours counts a stem once, lunr each time."""
    stem = get_default_builder().pipeline.run_string
    kept: dict[tuple[str, ...], str] = {}
    for word in text.lower().replace("-", " ").split():
        kept.setdefault(tuple(stem(word)), word)
    return " ".join(kept.values())


def test_index_is_the_one_that_lunr_makes() -> None:
    documents = [{name: without_inflections(text) for name, text in each.items()} for each in DOCUMENTS]
    theirs = lunr(
        ref="ref",
        fields=[{"field_name": name, "boost": boost} for name, boost in BOOSTS.items()],
        documents=[{"ref": str(number), **each} for number, each in enumerate(documents)],
    ).serialize()
    assert json.loads(json.dumps(index(documents, BOOSTS))) == json.loads(json.dumps(theirs))


def test_word_in_two_forms_counts_once() -> None:
    assert terms("bottle bottles bottled") == ("bottl",)


def test_common_words_are_left_out() -> None:
    assert terms("the and of") == ()
