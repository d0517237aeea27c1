"""What is remembered from one build to the next: only what was made of the very same things."""

from tankside.loading.values import Text
from tankside.memory import Memory, remembered, same_if_equal, store
from tankside.problems import Span


class Counting:
    """A function that says how often it was carried out."""

    def __init__(self) -> None:
        self.calls = 0

    def __call__(self, *given: object) -> list[object]:
        self.calls += 1
        return list(given)


def marked(counting: Counting):
    def function(*given: object) -> list[object]:
        return counting(*given)

    return remembered(function)


def test_nothing_is_remembered_where_no_memory_is_in_use() -> None:
    counting = Counting()
    function = marked(counting)
    assert function("a") == function("a")
    assert counting.calls == 2
    assert store("x") is not store("x")


def test_equal_words_and_numbers_are_the_same_and_give_one_object() -> None:
    counting = Counting()
    function = marked(counting)
    with Memory().in_use():
        assert function("a", 1, (b"x", None)) is function("a", 1, (b"x", None))
        assert function("a", 2, (b"x", None)) is not function("a", 1, (b"x", None))
    assert counting.calls == 2


def test_texts_that_stand_in_other_places_are_not_the_same() -> None:
    # A problem must name the line where the text stands now.
    function = marked(Counting())
    above, below = Text("a", Span("file", 1)), Text("a", Span("file", 2))
    with Memory().in_use():
        assert function(above)[0].span.line == 1
        assert function(below)[0].span.line == 2


def test_equal_objects_are_not_the_same_unless_one_stands_for_both() -> None:
    function = marked(Counting())
    with Memory().in_use():
        assert function({"a": 1}) is not function({"a": 1})
        assert function(same_if_equal("it", {"a": 1})) is function(same_if_equal("it", {"a": 1}))
        # Two that take turns, as a book and its last commit do.
        first, other = same_if_equal("it", {"a": 1}), same_if_equal("it", {"a": 2})
        assert same_if_equal("it", {"a": 1}) is first
        assert same_if_equal("it", {"a": 2}) is other


def test_what_was_asked_for_in_neither_of_two_rounds_is_forgotten() -> None:
    counting, memory = Counting(), Memory()
    function = marked(counting)
    with memory.in_use():
        function("a")
        function("b")
        memory.forget_unasked()
        function("a")
        memory.forget_unasked()
        assert counting.calls == 2
        function("a")
        assert counting.calls == 2
        function("b")
        assert counting.calls == 3
        memory.forget_all()
        function("a")
        assert counting.calls == 4


def test_what_is_raised_is_not_remembered() -> None:
    tries = []

    @remembered
    def fails_once() -> str:
        tries.append(None)
        if len(tries) == 1:
            raise ValueError
        return "made"

    with Memory().in_use():
        try:
            fails_once()
        except ValueError:
            assert fails_once() == "made"
    assert len(tries) == 2
