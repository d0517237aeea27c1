"""The audit: rules of safety on a whole book, each with its published source; what they find, and what is excepted."""

from tankside.audit.auditing import Audit, Finding, Granted, audit_of, stray_exceptions
from tankside.audit.registry import RULES
from tankside.audit.rule import Family, Rule, Source, Status, Weight

__all__ = [
    "RULES",
    "Audit",
    "Family",
    "Finding",
    "Granted",
    "Rule",
    "Source",
    "Status",
    "Weight",
    "audit_of",
    "stray_exceptions",
]
