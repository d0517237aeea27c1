"""Why a helper cannot be worked out with what it was given."""

from collections.abc import Collection, Mapping
from difflib import get_close_matches

from tankside.units import QuantityError


class OutOfDomainError(QuantityError):
    """A value outside the range the formula holds for."""

    code = "out-of-domain"


class KindsMismatchError(QuantityError):
    """Each value is of an accepted kind, but the formula has no form for them together."""

    code = "unit-wrong-kind"


class ArgumentMissingError(QuantityError):
    code = "argument-missing"

    def __init__(self, helper: str, examples: Mapping[str, str]) -> None:
        """Name what is missing; of several, one is enough."""
        ways = " or ".join(f'{name}="{example}"' for name, example in examples.items())
        super().__init__(f"'{helper}' needs {' or '.join(examples)}", f"add {ways}")
        self.helper = helper
        self.names = tuple(examples)


class ArgumentUnknownError(QuantityError):
    code = "argument-unknown"

    def __init__(self, helper: str, name: str, known: Collection[str]) -> None:
        near = get_close_matches(name, known, n=1)
        super().__init__(f"'{helper}' has no argument '{name}'", f"write {near[0] if near else ', '.join(known)}")
        self.helper = helper
        self.name = name


class ArgumentNotUsedError(QuantityError):
    """An argument that is right elsewhere but takes no part here; a value is never silently left out."""

    code = "argument-not-used"

    def __init__(self, helper: str, name: str, others: str) -> None:
        super().__init__(f"'{helper}' does not use {name} with {others}", f"leave {name} out")
        self.helper = helper
        self.name = name


class ChoiceUnknownError(QuantityError):
    """A word that is none of those an argument may be."""

    code = "value-not-allowed"

    def __init__(self, name: str, word: str, known: Collection[str]) -> None:
        near = get_close_matches(word, known, n=1)
        super().__init__(f"{name} '{word}' is none of its words", f"write {near[0] if near else ', '.join(known)}")


class ListEmptyError(QuantityError):
    """A list with an empty entry, or with too many."""

    code = "list-length"

    def __init__(self, name: str, text: str, example: str, most: int) -> None:
        super().__init__(
            f"{name} '{text[:60]}' is no list of 1 to {most} entries", f'write {name}="{example}", commas between'
        )


class PairFormError(QuantityError):
    """A pair without its stroke."""

    code = "argument-form"

    def __init__(self, name: str, part: str, example: str) -> None:
        super().__init__(f"{name} '{part}' is no pair", f'write {name}="{example}", a stroke inside each pair')


class FileFormError(QuantityError):
    """A file that is no column of numbers."""

    code = "file-form"


class SampleSizeError(QuantityError):
    """A sample that the plan for its lot does not know."""

    code = "sample-size"


class TableMissingError(QuantityError):
    """A published table that has not been copied into the program."""

    code = "table-missing"


class HelperUnknownError(QuantityError):
    code = "helper-unknown"

    def __init__(self, name: str, known: Collection[str]) -> None:
        near = get_close_matches(name, known, n=1)
        super().__init__(f"there is no helper '{name}'", f"write {near[0] if near else 'one of ' + ', '.join(known)}")
        self.name = name


class ArgumentFormError(QuantityError):
    """An argument that is not written ``name=value``."""

    code = "argument-form"

    def __init__(self, text: str) -> None:
        super().__init__(f"'{text}' does not say which argument it is for", 'write NAME="VALUE UNIT"')
        self.text = text


class ArgumentTwiceError(QuantityError):
    code = "argument-twice"

    def __init__(self, helper: str, name: str) -> None:
        super().__init__(f"'{helper}' was given {name} twice", f"write {name} once")
        self.helper = helper
        self.name = name
