"""A sheet before it is laid out."""

from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256


@dataclass(frozen=True)
class Draft:
    """Everything that a sheet depends on."""

    name: str
    html: str
    #: the style that only this sheet has
    style: str
    #: the same for a sheet that is too long to be read from afar
    nearer: str

    @cached_property
    def digest(self) -> str:
        """SHA-256 of what it is made of, as hexadecimal text."""
        return sha256("\0".join((self.html, self.style, self.nearer)).encode("utf-8")).hexdigest()
