"""What stands in a record, in words for a terminal: texts that cannot speak to it, times, states, who."""

import json

from tankside.cli.showing import counted
from tankside.quantities.portable import Portable
from tankside.records.record import Record
from tankside.records.serials import WHOLE, grouped

#: at the head of whatever is told of a record
CLAIMS = (
    "Initials and roles are claims, no signatures. The chain of hashes shows accidental or casual change; who has the "
    "device could write all of it anew. No compliance with any regulation is claimed."
)


def clean(text: Portable) -> str:
    """Return a text on one line, without characters that a terminal would obey."""
    return " ".join("".join(each if each.isprintable() else " " for each in str(text)).split())


def silent(text: str) -> str:
    """Return JSON with each character that a terminal would obey as the escape that JSON has for it."""
    return "".join(each if each.isprintable() or each == "\n" else json.dumps(each)[1:-1] for each in text)


def moment(at: str, offset: str) -> str:
    """Return a time of day as people read it; its offset only where it is another one."""
    own = offset_of(at)
    return f"{at[:10]} {at[11:19]}{'' if own == offset else f' {own}'}"


def offset_of(at: str) -> str:
    """Return the offset from UTC that stands in a time."""
    return "+00:00" if at.endswith("Z") else at[-6:]


def signed(event: Portable) -> str:
    """Return who entered an event, and as what."""
    role = clean(event["role"])
    return f"{clean(event['who'])} ({role})" if role else clean(event["who"])


def sheet(serial: str) -> str:
    """Return the serial of a record sheet as it is printed."""
    return grouped(serial) if len(serial) == WHOLE else clean(serial)


def state_of(record: Record) -> str:
    """Return the state of a working copy."""
    copy = record.copy
    if not record.is_whole:
        return f"only its first {counted(len(record.entries), 'event')} can be told"
    if copy.ended:
        cut = ", before its last step" if copy.is_cut_short else ""
        return f"finished{cut}" if copy.ended == "finish" else "given up"
    if copy.given_by:
        return f"waits to be taken over from {clean(copy.given_by)}"
    now = copy.now
    where = "nothing is left to do" if now is None else f"at '{clean(now.name) or 'a decision'}'"
    return f"paused, {where}" if copy.is_paused else where
