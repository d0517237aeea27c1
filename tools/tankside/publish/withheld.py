"""Nothing of a site for the floor may tell what is confidential: the last look, at every byte of every file."""

import re
from collections.abc import Iterator, Mapping
from html import unescape
from itertools import zip_longest
from pathlib import Path

from tankside.catalogue.secrets import Secret, Secrets, secrets_in, secrets_in_file

#: what a book holds beside its model
BESIDE = ("site_src", "mkdocs.yml")
_TITLE = re.compile(rb"<title>([^<]*)</title>")
#: what Markdown sets inside a word
_MARKS = re.compile(rb"[*`\\]")


class SecretToldError(Exception):
    """A finished file would tell the floor what is confidential."""


def refuse_secrets(found: Mapping[str, bytes], folder: Path, secrets: Secrets) -> None:
    """Refuse files of a site, by address, in whose names or bytes a secret word stands.

    Raises:
        SecretToldError: with a sentence for each word: in which files, where it comes from, what to do.
    """
    told: dict[str, list[str]] = {}
    for address in sorted(found) if secrets else ():
        for word in dict.fromkeys((*secrets_in(address, secrets), *secrets_in_file(found[address], secrets))):
            told.setdefault(word, []).append(_named(address, found[address]))
    sentences = [_sentence(each, told[each.word], folder) for each in secrets if each.word in told]
    if sentences:
        raise SecretToldError("\n".join(sentences))


def _named(address: str, data: bytes) -> str:
    title = _TITLE.search(data) if address.endswith(".html") else None
    return f"{address} (page '{unescape(title[1].decode('utf-8')).strip()}')" if title else address


def _sentence(secret: Secret, files: list[str], folder: Path) -> str:
    more = f" and {len(files) - 1} more" if len(files) > 1 else ""
    places = ", ".join(_places(folder, secret))
    source = f"it stands in {places}" if places else "it stands in no page, picture or setting that was written by hand"
    way_out = f"write '{secret.code}' there" if places else f"search the book for it, and write '{secret.code}'"
    return (
        f"'{secret.word}' is confidential and would reach the floor in {files[0]}{more}; {source}. To publish, "
        f"{way_out}. With '--audience office' everything is shown."
    )


def _places(folder: Path, secret: Secret) -> Iterator[str]:
    """Return where a secret word stands in what was written by hand beside the model."""
    paths = (path for name in BESIDE for path in (folder / name, *sorted((folder / name).rglob("*"))))
    for path in paths:
        if path.is_file():
            yield from _in_file(path, path.relative_to(folder).as_posix(), secret)


def _in_file(path: Path, name: str, secret: Secret) -> Iterator[str]:
    data = path.read_bytes()
    if secrets_in(name, (secret,)):
        yield f"the name of {name}"
    number = _line(data.splitlines(), secret)
    if number:
        yield f"{name}:{number}"
    elif secrets_in_file(data, (secret,)):
        yield name


def _line(lines: list[bytes], secret: Secret) -> int:
    """Return the number of the first line in which a secret word stands or begins, 0 when there is none."""
    plain = [_MARKS.sub(b"", line) for line in lines]
    for number, (line, after) in enumerate(zip_longest(plain, plain[1:], fillvalue=b""), 1):
        if secrets_in_file(line + b" " + after, (secret,)) and not secrets_in_file(after, (secret,)):
            return number
    return 0
