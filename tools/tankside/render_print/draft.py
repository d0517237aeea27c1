"""A sheet before it is laid out."""

from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256

from tankside.render_print.fit import Misfit


@dataclass(frozen=True)
class Draft:
    """Everything that a sheet depends on."""

    name: str
    html: str
    #: the style that only this sheet has
    style: str
    #: how many pages its class allows; None for any number
    most_pages: int | None = None
    #: what is known not to fit before anything is laid out
    misfits: tuple[Misfit, ...] = ()

    @cached_property
    def digest(self) -> str:
        """SHA-256 of what it is made of, as hexadecimal text."""
        made_of = (self.html, self.style, repr(self.most_pages), repr(self.misfits))
        return sha256("\0".join(made_of).encode("utf-8")).hexdigest()
