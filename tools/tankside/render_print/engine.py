"""WeasyPrint with everything closed that could change a sheet without a word."""

import base64
import logging
import re
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from importlib.metadata import version
from importlib.resources import files

from fontpkg_atkinson_hyperlegible import ROOT as FONT

from tankside.render_print.fit import misfits

#: weight of the type -> file of the font package
FONTS = {400: "AtkinsonHyperlegible-Regular.ttf", 700: "AtkinsonHyperlegible-Bold.ttf"}


#: an address that holds its data is too long for a sentence
_LONG_DATA = re.compile(r"data:[^\"' ]{40,}")


#: the packages that a PDF comes out of
LAYING_OUT = ("weasyprint", "pydyf", "fonttools")


class SheetFailedError(Exception):
    """A sheet could not be laid out as it should; the message says which and why."""


class SheetMisfitError(SheetFailedError):
    """Something is too long for a page at its size."""


class PrintUnavailableError(Exception):
    """WeasyPrint or its system libraries are not there."""


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

    def pdf(self, html: str, page_style: str, name: str) -> bytes:
        """Return a document as a tagged PDF.

        Raises:
            SheetFailedError: WeasyPrint warned of anything.
            SheetMisfitError: a step or caution does not fit on a page.
        """
        with _no_warnings(name):
            page = self._weasyprint.CSS(string=page_style, font_config=self._fonts, url_fetcher=self._only_data)
            document = self._weasyprint.HTML(string=html, url_fetcher=self._only_data).render(
                font_config=self._fonts, stylesheets=[self._style, page], pdf_tags=True
            )
            made: bytes = document.write_pdf(pdf_tags=True)
        if found := list(misfits([page.anchors for page in document.pages])):
            raise SheetMisfitError(f"sheet '{name}': {'; '.join(found)}")
        return made


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
