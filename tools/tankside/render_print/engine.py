"""WeasyPrint with everything closed that could change a sheet without a word."""

import base64
import logging
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from hashlib import sha256
from importlib.metadata import version
from importlib.resources import files
from typing import Any

from fontpkg_atkinson_hyperlegible import ROOT as FONT

from tankside.render_print.draft import Draft
from tankside.render_print.fit import Misfit, misfits, said

#: weight of the type -> file of the font package
FONTS = {400: "AtkinsonHyperlegible-Regular.ttf", 700: "AtkinsonHyperlegible-Bold.ttf"}


#: an address that holds its data is too long for a sentence
_LONG_DATA = re.compile(r"data:[^\"' ]{40,}")


#: the packages that a PDF comes out of
LAYING_OUT = ("weasyprint", "pydyf", "fonttools")


class SheetFailedError(Exception):
    """A sheet could not be laid out as it should; the message says which and why."""


class SheetMisfitError(SheetFailedError):
    """Something is too long for a page at its size, or for the class of the sheet."""

    def __init__(self, name: str, found: tuple[Misfit, ...]) -> None:
        """Keep what does not fit on the sheet `name`."""
        super().__init__(name, found)
        self.misfits = found

    def __str__(self) -> str:
        """Return one sentence."""
        name, found = self.args
        return f"sheet '{name}': {'; '.join(map(said, found))}"


class PrintUnavailableError(Exception):
    """WeasyPrint or its system libraries are not there."""


@dataclass(frozen=True)
class Laid:
    """A sheet that was laid out; what it is made of is known here only."""

    document: Any
    #: how many pages it takes
    count: int


def data_address(kind: str, data: bytes) -> str:
    """Return bytes as an address that needs no fetching."""
    return f"data:{kind};base64,{base64.b64encode(data).decode('ascii')}"


class Engine:
    """Lays out documents; the style and fonts are read once."""

    def __init__(self) -> None:
        """Load WeasyPrint.

        Raises:
            PrintUnavailableError: it or its system libraries are not there.
        """
        try:
            import weasyprint
            from weasyprint.text.fonts import FontConfiguration
            from weasyprint.urls import URLFetcher
        except (ImportError, OSError) as error:
            raise PrintUnavailableError(str(error).splitlines()[0]) from error
        self._weasyprint = weasyprint
        self._fonts = FontConfiguration()
        # Anything else is refused, which WeasyPrint logs as an error, which fails the sheet.
        self._only_data = URLFetcher(allowed_protocols=["data"])
        style = _font_faces() + (files("tankside") / "assets" / "print" / "sheet.css").read_text(encoding="utf-8")
        self._style = weasyprint.CSS(string=style, font_config=self._fonts, url_fetcher=self._only_data)
        made_by = (*(f"{name} {version(name)}" for name in LAYING_OUT), style)
        #: another style, font or version of what lays out may give another PDF
        self.version = sha256("\0".join(made_by).encode("utf-8")).hexdigest()[:16]

    def pdf(self, draft: Draft) -> bytes:
        """Return a sheet as a tagged PDF.

        Raises:
            SheetFailedError: WeasyPrint warned of anything.
            SheetMisfitError: a step or caution does not fit on a page, or the sheet is too long for its class.
        """
        with _no_warnings(draft.name):
            made: bytes = self._document(draft).write_pdf(pdf_tags=True)
        return made

    def laid(self, draft: Draft) -> Laid:
        """Return a sheet as it was laid out, to be bound with others.

        Raises:
            SheetFailedError, SheetMisfitError: as for one sheet.
        """
        with _no_warnings(draft.name):
            document = self._document(draft)
        return Laid(document, len(document.pages))

    def bound(self, sheets: Sequence[Laid], name: str) -> bytes:
        """Return many sheets as one tagged PDF.

        Raises:
            SheetFailedError: WeasyPrint warned of anything.
        """
        pages = [page for sheet in sheets for page in sheet.document.pages]
        with _no_warnings(name):
            made: bytes = sheets[0].document.copy(pages).write_pdf(pdf_tags=True)
        return made

    def _document(self, draft: Draft) -> Any:
        if draft.misfits:
            raise SheetMisfitError(draft.name, draft.misfits)
        page = self._weasyprint.CSS(string=draft.style, font_config=self._fonts, url_fetcher=self._only_data)
        document = self._weasyprint.HTML(string=draft.html, url_fetcher=self._only_data).render(
            font_config=self._fonts, stylesheets=[self._style, page], pdf_tags=True
        )
        if found := tuple(misfits([page.anchors for page in document.pages], draft.most_pages)):
            raise SheetMisfitError(draft.name, found)
        return document


def _font_faces() -> str:
    faces = []
    for weight, name in FONTS.items():
        address = data_address("font/ttf", (FONT / "files" / name).read_bytes())
        faces.append(
            f'@font-face {{ font-family: "Atkinson Hyperlegible"; font-weight: {weight}; src: url("{address}"); }}'
        )
    return "\n".join(faces)


class _Collector(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.said.append(record.getMessage())


@contextmanager
def _no_warnings(name: str) -> Iterator[None]:
    logger = logging.getLogger("weasyprint")
    collector = _Collector()
    logger.addHandler(collector)
    try:
        yield
    finally:
        logger.removeHandler(collector)
    if collector.said:
        said = "; ".join(dict.fromkeys(_LONG_DATA.sub("data:...", each) for each in collector.said))
        raise SheetFailedError(f"sheet '{name}': {said}")
