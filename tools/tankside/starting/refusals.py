"""Why nothing was begun."""


class CannotStartError(Exception):
    """What was asked for would overwrite something or would not fit the book; the message is a sentence."""
