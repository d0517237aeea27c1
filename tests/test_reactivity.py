"""What may meet and what must never: the published table, the book's own lists, and that unknown is not allowed."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import replace
from itertools import product
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tankside.loading.values import Text
from tankside.model.facts import Group, Material, Materials, MayMeet, NeverMeet
from tankside.plant.reactivity import Allowed, Never, Reactivity, Unknown, problems
from tankside.problems import Severity, Span

PACKAGE = Path(__file__).parent.parent / "tools" / "tankside"
TABLE: Mapping[str, Any] = json.loads((PACKAGE / "plant" / "reactivity.json").read_text(encoding="utf-8"))
PUBLISHED = {frozenset(row["kinds"]): row for row in TABLE["pairs"]}
NOWHERE = Span("procedures/plant/materials.yaml")
EPA = "EPA-600/2-80-076, "

#: the cells of EPA-600/2-80-076 that were read in a copy, by group number, with the letters printed in them
READ_CELLS = [
    (10, 1, ["H"]),
    (10, 2, ["H"]),
    (10, 3, ["H"]),
    (4, 1, ["H"]),
    (4, 2, ["H", "F"]),
    (4, 3, ["H", "P"]),
    (13, 1, ["H"]),
    (13, 2, ["H", "F"]),
    (11, 1, ["GT", "GF"]),
    (11, 2, ["GT", "GF"]),
    (11, 3, ["GT", "GF"]),
    (15, 1, ["GT"]),
    (15, 2, ["GT"]),
    (15, 3, ["GT"]),
]
#: cells of the same report that nobody has seen; from memory, with low confidence
REMEMBERED_CELLS = [
    (104, 1, ["H", "GT"]),
    (104, 3, ["H", "GT"]),
    (104, 4, ["H", "F"]),
    (104, 7, ["H", "F", "GT"]),
]
#: group numbers of the report: up to 17 read in a copy, the others from memory
NUMBERS = {
    "acid-mineral": 1,
    "acid-oxidising": 2,
    "acid-organic": 3,
    "alcohol-glycol": 4,
    "aldehyde": 5,
    "amine-ammonia": 7,
    "caustic": 10,
    "cyanide": 11,
    "ester": 13,
    "ether": 14,
    "fluoride": 15,
    "aromatic": 16,
    "halogenated-organic": 17,
    "combustible": 101,
    "hypochlorite": 104,
    "peroxide": 104,
    "water": 106,
}
ACIDS = ("acid-mineral", "acid-oxidising", "acid-organic")


def text(value: str, line: int = 1) -> Text:
    return Text(value, replace(NOWHERE, line=line))


def texts(values: Iterable[str], line: int = 1) -> tuple[Text, ...]:
    return tuple(text(value, line) for value in values)


def never(first: str, second: str) -> NeverMeet:
    return NeverMeet(text(f"{first} harms {second}."), text("the book"), texts((first, second)))


def may(first: str, second: str, line: int = 1) -> MayMeet:
    return MayMeet(text(f"{first} leaves {second} alone."), text("the book"), texts((first, second), line))


def book(
    materials: Mapping[str, Iterable[str]],
    stands_for: Mapping[str, Iterable[str]] | None = None,
    never_meet: Iterable[NeverMeet] = (),
    may_meet: Iterable[MayMeet] = (),
) -> Materials:
    """Return a book of materials with their groups, and of groups with the kinds that they stand for."""
    groups = {group: () for each in materials.values() for group in each} | dict(stands_for or {})
    return Materials(
        {text(name): material(name, each) for name, each in materials.items()},
        {text(name): Group(text(name), texts(kinds)) for name, kinds in groups.items()},
        tuple(never_meet),
        tuple(may_meet),
    )


def material(name: str, groups: Iterable[str]) -> Material:
    return Material(text(name), text("raw"), text("Clear."), text("1 kg/L"), groups=texts(groups))


def of_kinds(first: str, second: str) -> Reactivity:
    """Return a book of two materials, each of one group that stands for one kind."""
    return Reactivity(book({"one": ["g"], "other": ["h"]}, {"g": [first], "h": [second]}))


def kinds_numbered(number: int) -> list[str]:
    return [kind for kind, row in TABLE["kinds"].items() if row.get("number") == number]


def cell(first: str, second: str) -> tuple[list[str], str]:
    """Return what the table has of a cell of the report: letters and status."""
    row = PUBLISHED[frozenset((first, second))]
    (source,) = (each for each in row["sources"] if each["says"].startswith(EPA))
    return source["letters"], source["status"]


# --- the table --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("row", "column", "letters"), READ_CELLS)
def test_cell_that_was_read_has_the_letters_printed_in_it(row: int, column: int, letters: list[str]) -> None:
    (first,), (second,) = kinds_numbered(row), kinds_numbered(column)
    assert cell(first, second) == (letters, "read")
    assert isinstance(of_kinds(first, second).judge("one", "other"), Never)


@pytest.mark.parametrize(("row", "column", "letters"), REMEMBERED_CELLS)
def test_cell_that_was_not_seen_says_so(row: int, column: int, letters: list[str]) -> None:
    (second,) = kinds_numbered(column)
    for first in kinds_numbered(row):
        assert cell(first, second) == (letters, "from memory")
        verdict = of_kinds(first, second).judge("one", "other")
        assert isinstance(verdict, Never)
        assert "from memory" in verdict.source


def test_table_has_no_cell_of_the_report_but_these() -> None:
    has = {each["says"] for row in TABLE["pairs"] for each in row["sources"] if each["says"].startswith(EPA)}
    assert has == {f"{EPA}{row} with {column}" for row, column, _ in READ_CELLS + REMEMBERED_CELLS}


@pytest.mark.parametrize("row", TABLE["pairs"], ids=lambda row: "-with-".join(row["kinds"]))
def test_pair_names_the_cell_of_its_own_kinds(row: Mapping[str, Any]) -> None:
    numbers = {NUMBERS.get(kind, 0) for kind in row["kinds"]}
    for source in row["sources"]:
        if source["says"].startswith(EPA):
            assert {int(number) for number in source["says"].removeprefix(EPA).split(" with ")} == numbers


def test_kinds_have_their_numbers_in_the_report() -> None:
    has = {kind: row["number"] for kind, row in TABLE["kinds"].items() if "number" in row}
    assert has == NUMBERS
    for kind, number in NUMBERS.items():
        assert TABLE["kinds"][kind]["status"] == ("read" if number <= 17 else "from memory")


@pytest.mark.parametrize("row", TABLE["pairs"], ids=lambda row: "-with-".join(row["kinds"]))
def test_every_pair_has_known_kinds_a_consequence_and_sources_that_say_whether_they_were_read(
    row: Mapping[str, Any],
) -> None:
    assert len(set(row["kinds"])) == 2
    assert set(row["kinds"]) <= TABLE["kinds"].keys()
    assert row["consequence"].endswith(".")
    assert row["sources"]
    for source in row["sources"]:
        assert source["says"]
        assert source["status"] in ("read", "from memory")
        assert set(source["letters"]) <= TABLE["letters"].keys()


def test_no_pair_is_there_twice() -> None:
    assert len(PUBLISHED) == len(TABLE["pairs"])


def test_book_may_write_exactly_the_kinds_of_the_table() -> None:
    schema = json.loads((PACKAGE / "schema" / "materials.schema.json").read_text(encoding="utf-8"))
    group = schema["properties"]["groups"]["additionalProperties"]
    assert set(group["properties"]["stands_for"]["items"]["enum"]) == TABLE["kinds"].keys()


def test_no_rinse_makes_hypochlorite_safe_with_acid_ammonia_or_peroxide() -> None:
    # MMWR 1991: chlorine once more after the floor had been rinsed; the others from memory
    separate = {kinds for kinds, row in PUBLISHED.items() if row.get("separate_equipment")}
    assert separate == {frozenset(("hypochlorite", each)) for each in (*ACIDS, "amine-ammonia", "peroxide")}


# --- published facts --------------------------------------------------------------------------------------------------


def test_phosphoric_acid_of_four_per_cent_and_thinned_bleach_make_chlorine() -> None:
    # MMWR 1991: five releases in two hospitals, 4 % phosphoric acid and diluted bleach
    thinned = book(
        {"phosphoric-acid-4-percent": ["acids", "water"], "thinned-bleach": ["hypochlorites", "water"]},
        {"acids": ["acid-mineral"], "hypochlorites": ["hypochlorite"], "water": ["water"]},
        may_meet=[may("acids", "water"), may("hypochlorites", "water")],
    )
    verdict = Reactivity(thinned).judge("thinned-bleach", "phosphoric-acid-4-percent")
    assert isinstance(verdict, Never)
    assert "Chlorine" in verdict.consequence
    assert "MMWR 1991" in verdict.source
    assert verdict.is_separate


@pytest.mark.parametrize("acid", ACIDS)
def test_every_acid_makes_chlorine_of_hypochlorite(acid: str) -> None:
    # incompatibility chart of The Chlorine Institute: acids, acidic compounds
    verdict = of_kinds(acid, "hypochlorite").judge("one", "other")
    assert isinstance(verdict, Never)
    assert "Chlorine" in verdict.consequence


def test_ammonia_makes_chloramine_of_hypochlorite() -> None:
    # page of a hospital's poison control center on household cleaners
    verdict = of_kinds("amine-ammonia", "hypochlorite").judge("one", "other")
    assert isinstance(verdict, Never)
    assert "Chloramine" in verdict.consequence


@pytest.mark.parametrize("other", ["caustic", *ACIDS])
def test_light_metals_make_hydrogen_of_acid_and_alkali(other: str) -> None:
    # 40 CFR 265 App. V, group 2
    verdict = of_kinds("metal-light", other).judge("one", "other")
    assert isinstance(verdict, Never)
    assert "Hydrogen" in verdict.consequence


@pytest.mark.parametrize("other", ["acid-mineral", "caustic", "hypochlorite"])
def test_water_is_not_forbidden_by_the_table(other: str) -> None:
    # 40 CFR 265 App. V: a safe way to mix is acid into water
    assert isinstance(of_kinds("water", other).judge("one", "other"), Unknown)
    allowed = book({"one": ["g"], "other": ["h"]}, {"g": ["water"], "h": [other]}, may_meet=[may("g", "h")])
    assert Reactivity(allowed).judge("one", "other") == Allowed("g leaves h alone.", "the book")


# --- the book's lists -------------------------------------------------------------------------------------------------


def test_material_may_meet_itself_even_when_nothing_is_known_of_it() -> None:
    both = Reactivity(book({"one": [], "bleach": ["h"]}, {"h": ["hypochlorite", "acid-mineral"]}))
    assert isinstance(both.judge("one", "one"), Allowed)
    assert isinstance(both.judge("bleach", "bleach"), Allowed)


def test_materials_of_one_group_may_meet() -> None:
    assert isinstance(Reactivity(book({"one": ["g"], "other": ["g"]})).judge("one", "other"), Allowed)


def test_material_without_groups_is_unknown_with_all_others() -> None:
    strange = Reactivity(book({"one": [], "other": [], "third": ["g"]}))
    assert isinstance(strange.judge("one", "other"), Unknown)
    assert isinstance(strange.judge("one", "third"), Unknown)
    assert isinstance(strange.judge("third", "one"), Unknown)


def test_pair_of_groups_that_no_list_has_is_unknown_and_named() -> None:
    verdict = Reactivity(book({"one": ["salts"], "other": ["dyes"]})).judge("one", "other")
    assert verdict == Unknown("no list says whether the groups 'dyes' and 'salts' may meet")


def test_of_several_unknown_pairs_the_first_by_the_alphabet_is_named() -> None:
    verdict = Reactivity(book({"one": ["salts", "oils"], "other": ["dyes"]})).judge("one", "other")
    assert verdict == Unknown("no list says whether the groups 'dyes' and 'oils' may meet")


def test_one_unknown_pair_of_groups_is_enough() -> None:
    mixture = book({"one": ["a", "b"], "other": ["c"]}, may_meet=[may("a", "c")])
    assert isinstance(Reactivity(mixture).judge("one", "other"), Unknown)
    both = replace(mixture, may_meet=(may("a", "c"), may("c", "b")))
    assert Reactivity(both).judge("one", "other") == Allowed("a leaves c alone. c leaves b alone.", "the book")


def test_two_mixtures_of_the_same_groups_need_that_their_groups_may_meet() -> None:
    same = book({"fresh": ["caustics", "hypochlorites"], "used": ["caustics", "hypochlorites"]})
    assert isinstance(Reactivity(same).judge("fresh", "used"), Unknown)
    said = replace(same, may_meet=(may("hypochlorites", "caustics"),))
    assert isinstance(Reactivity(said).judge("fresh", "used"), Allowed)


def test_one_forbidden_pair_of_groups_is_enough() -> None:
    mixture = book(
        {"one": ["a", "b"], "other": ["c"]}, never_meet=[never("c", "b")], may_meet=[may("a", "c"), may("b", "c")]
    )
    assert Reactivity(mixture).judge("one", "other") == Never("c harms b.", "the book", is_separate=True)


def test_forbidden_beats_unknown() -> None:
    mixture = book({"one": ["a", "b"], "other": ["c"]}, never_meet=[never("a", "c")])
    assert isinstance(Reactivity(mixture).judge("one", "other"), Never)


def test_published_pair_beats_what_the_book_allows() -> None:
    allowed = book(
        {"one": ["g"], "other": ["h"]}, {"g": ["acid-organic"], "h": ["hypochlorite"]}, may_meet=[may("g", "h")]
    )
    assert isinstance(Reactivity(allowed).judge("one", "other"), Never)


def test_sentence_of_the_book_comes_before_the_published_one() -> None:
    both = book(
        {"one": ["g"], "other": ["h"]}, {"g": ["acid-organic"], "h": ["hypochlorite"]}, never_meet=[never("g", "h")]
    )
    assert Reactivity(both).judge("one", "other") == Never("g harms h.", "the book", is_separate=True)


def test_pair_that_no_rinse_makes_safe_comes_before_others_that_are_published() -> None:
    # EPA-600/2-80-076, 10 with 3: heat; MMWR 1991: chlorine
    mixture = {"cleaner": ["caustics", "hypochlorites"], "descaler": ["acids"]}
    kinds = {"acids": ["acid-organic"], "caustics": ["caustic"], "hypochlorites": ["hypochlorite"]}
    verdict = Reactivity(book(mixture, kinds)).judge("cleaner", "descaler")
    assert isinstance(verdict, Never)
    assert verdict.is_separate
    assert "Chlorine" in verdict.consequence


def test_published_pair_that_a_rinse_makes_safe_is_not_separate() -> None:
    verdict = of_kinds("caustic", "acid-mineral").judge("one", "other")
    assert isinstance(verdict, Never)
    assert not verdict.is_separate


def test_group_that_stands_for_kinds_that_react_must_not_meet_itself() -> None:
    oxidisers = book({"one": ["oxidisers"], "other": ["oxidisers"]}, {"oxidisers": ["hypochlorite", "peroxide"]})
    assert isinstance(Reactivity(oxidisers).judge("one", "other"), Never)


def test_material_that_the_book_lacks_is_refused() -> None:
    with pytest.raises(KeyError):
        Reactivity(book({"one": ["g"]})).judge("one", "another")
    with pytest.raises(KeyError):
        Reactivity(book({"one": ["g"]})).judge("another", "another")


# --- what a book contradicts ------------------------------------------------------------------------------------------


def test_pair_that_may_meet_and_never_meet_is_a_problem_at_the_entry() -> None:
    wrong = book({"one": ["a"], "other": ["b"]}, never_meet=[never("a", "b")], may_meet=[may("b", "a", line=70)])
    (problem,) = problems(wrong)
    assert problem.as_text() == (
        "procedures/plant/materials.yaml:70:1: error: 'b' and 'a' may meet here, and must never meet; "
        "source: the book [pair-contradicts]\n    hint: delete this entry: a harms b"
    )


def test_pair_that_is_published_as_reacting_is_a_problem() -> None:
    wrong = book(
        {"one": ["acids"], "other": ["fluorides"]},
        {"acids": ["acid-mineral"], "fluorides": ["fluoride"]},
        may_meet=[may("acids", "fluorides")],
    )
    (problem,) = problems(wrong)
    assert (problem.code, problem.severity) == ("pair-contradicts", Severity.ERROR)
    assert "EPA-600/2-80-076, 15 with 1, toxic gas" in problem.message


def test_lists_that_agree_are_no_problem() -> None:
    right = book(
        {"one": ["acids"], "other": ["water"], "third": ["caustics"]},
        {"acids": ["acid-mineral"], "water": ["water"], "caustics": ["caustic"]},
        never_meet=[never("acids", "caustics")],
        may_meet=[may("acids", "water"), may("water", "caustics")],
    )
    assert list(problems(right)) == []


# --- random books -----------------------------------------------------------------------------------------------------

GROUPS = ("a", "b", "c", "d")
PAIRS_OF_GROUPS = st.tuples(st.sampled_from(GROUPS), st.sampled_from(GROUPS))
MATERIALS = ("m", "n", "o", "p")


@st.composite
def books(draw: st.DrawFn) -> Materials:
    # kinds of which many react, so that each verdict is often met
    kinds = st.sets(st.sampled_from(("acid-mineral", "hypochlorite", "caustic", "water", "ester")), max_size=2)
    groups = {name: draw(st.sets(st.sampled_from(GROUPS), max_size=3)) for name in MATERIALS}
    forbidden, allowed = draw(st.lists(PAIRS_OF_GROUPS, max_size=2)), draw(st.lists(PAIRS_OF_GROUPS, max_size=9))
    return book(
        groups,
        {name: draw(kinds) for name in GROUPS},
        [never(*pair) for pair in forbidden],
        [may(*pair) for pair in allowed],
    )


@given(books())
def test_order_of_two_materials_does_not_matter(materials: Materials) -> None:
    reactivity = Reactivity(materials)
    for first, second in product(MATERIALS, repeat=2):
        assert reactivity.judge(first, second) == reactivity.judge(second, first)


@given(books())
def test_verdict_is_what_the_lists_say_of_each_pair_of_groups(materials: Materials) -> None:
    reactivity = Reactivity(materials)
    for first, second in product(MATERIALS, repeat=2):
        verdict = reactivity.judge(first, second)
        assert type(verdict) is (Allowed if first == second else said(materials, first, second))


def said(materials: Materials, first: str, second: str) -> type:
    """Return what the lists say of two different materials, pair by pair."""
    both = [next(each.groups for each in materials.materials.values() if each.name == name) for name in (first, second)]
    forbidden = [set(each.groups) for each in materials.never_meet]
    allowed = [set(each.groups) for each in materials.may_meet]
    kinds = kinds_of(materials)
    pairs = list(product(*both))
    if any({one, other} in forbidden for one, other in pairs):
        return Never
    if any(frozenset(each) in PUBLISHED for one, other in pairs for each in product(kinds[one], kinds[other])):
        return Never
    if pairs and all(one == other or {one, other} in allowed for one, other in pairs):
        return Allowed
    return Unknown


@given(books(), PAIRS_OF_GROUPS)
def test_allowing_one_more_pair_never_allows_what_is_forbidden(materials: Materials, pair: tuple[str, str]) -> None:
    before = Reactivity(materials)
    after = Reactivity(replace(materials, may_meet=(*materials.may_meet, may(*pair))))
    for first, second in product(MATERIALS, repeat=2):
        was, now = before.judge(first, second), after.judge(first, second)
        if isinstance(was, Never):
            assert now == was
        else:
            assert isinstance(now, type(was) | Allowed)


@given(books(), PAIRS_OF_GROUPS)
def test_forbidding_one_more_pair_only_forbids_more(materials: Materials, pair: tuple[str, str]) -> None:
    before = Reactivity(materials)
    after = Reactivity(replace(materials, never_meet=(*materials.never_meet, never(*pair))))
    for first, second in product(MATERIALS, repeat=2):
        was, now = before.judge(first, second), after.judge(first, second)
        assert isinstance(now, Never) or now == was


@given(books())
def test_lists_contradict_each_other_exactly_where_an_allowed_pair_is_forbidden(materials: Materials) -> None:
    alone = [
        book({"one": [first], "other": [second]}, kinds_of(materials), materials.never_meet)
        for first, second in (entry.groups for entry in materials.may_meet)
    ]
    wrong = [isinstance(Reactivity(each).judge("one", "other"), Never) for each in alone]
    assert len(list(problems(materials))) == sum(wrong)


def kinds_of(materials: Materials) -> Mapping[str, tuple[str, ...]]:
    return {str(name): group.stands_for for name, group in materials.groups.items()}
