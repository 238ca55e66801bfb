"""Everything that Setwell raises on purpose.

SetwellError
├── InputError (ValueError)            a value the user can correct
│   ├── OutOfRangeError
│   ├── UnitError
│   ├── UnknownNameError               offers the nearest names
│   └── DocumentError                  a file or pasted document that cannot be read
├── MissingDataError (LookupError)     no row for this material and condition
├── TableError                         a data file is broken or cites an unknown source
├── ModelError                         a model cannot answer
├── NotFoundError (LookupError)        no such formula, version, lot ...
├── ConflictError                      two people changed the same thing
└── NotAllowedError
"""

from collections.abc import Sequence


class SetwellError(Exception):
    """Root of every error that a front door turns into a plain sentence."""

    def __init__(self, message: str, *, hint: str = "") -> None:
        super().__init__(message if not hint else f"{message} {hint}")
        self.message = message
        self.hint = hint


class InputError(SetwellError, ValueError):
    """A value that the user can correct, with the field it belongs to."""

    def __init__(self, message: str, *, field: str = "", hint: str = "") -> None:
        super().__init__(message, hint=hint)
        self.field = field


class OutOfRangeError(InputError):
    """A number outside what is possible."""


class UnitError(InputError):
    """A unit that is unknown or does not fit here."""


class UnknownNameError(InputError):
    """A name that no table knows; `nearest` holds the closest known ones."""

    def __init__(
        self, message: str, *, field: str = "", hint: str = "", nearest: Sequence[str] = ()
    ) -> None:
        super().__init__(message, field=field, hint=hint)
        self.nearest = tuple(nearest)


class DocumentError(InputError):
    """A file or pasted text that cannot be read as the document it should be."""


class MissingDataError(SetwellError, LookupError):
    """No row for this material and condition."""


class TableError(SetwellError):
    """A shipped data file is broken; raised on load, never by user input."""


class ModelError(SetwellError):
    """A model cannot answer for these inputs."""


class NotFoundError(SetwellError, LookupError):
    """Nothing stored under this name."""


class ConflictError(SetwellError):
    """Someone else changed the same thing in between."""


class NotAllowedError(SetwellError):
    """The action is not permitted here."""
