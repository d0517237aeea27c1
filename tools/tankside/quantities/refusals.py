"""Why a helper cannot be worked out with what it was given."""

from collections.abc import Collection
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

    def __init__(self, helper: str, name: str, example: str) -> None:
        super().__init__(f"'{helper}' needs {name}", f'add {name}="{example}"')
        self.helper = helper
        self.name = name


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
