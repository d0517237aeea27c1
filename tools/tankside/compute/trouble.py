"""What cannot be worked out, as problems of the book."""

from collections.abc import Iterator
from contextlib import contextmanager

from tankside.problems import Problem, Span
from tankside.units import QuantityError


class CannotWorkOutError(Exception):
    """An amount or fact of the book cannot be worked out."""

    def __init__(self, problem: Problem) -> None:
        """Carry the problem to be shown."""
        super().__init__(problem.message)
        self.problem = problem


class NotResolvedError(Exception):
    """It needs a name that is not defined; resolving names has said so."""


@contextmanager
def standing_at(span: Span) -> Iterator[None]:
    """Turn a refusal of the units or helpers into a problem of the book that stands at `span`.

    Raises:
        CannotWorkOutError: with the problem.
    """
    try:
        yield
    except QuantityError as error:
        raise CannotWorkOutError(Problem(span, error.code, error.sentence, error.hint)) from error
