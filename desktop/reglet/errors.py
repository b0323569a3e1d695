"""Every error that Reglet raises on purpose.

    RegletError
    ├── WriterError         something the writer can put right
    │   ├── UnknownThing    no scene, chapter, snapshot… of that name in this book
    │   ├── CannotArrange   an operation that has no meaning here (merge a scene with itself)
    │   ├── DraftError      a draft that cannot be brought in
    │   └── BookFileError   a book file that cannot be opened or written
    │       ├── NewerBookFile    written by a later Reglet: opens for reading only
    │       ├── BookFileInUse    open in another window
    │       └── DamagedBookFile  fails its own checks
    └── FaultOfOurs         a promise of Reglet's own that did not hold

The text of each is one or more whole sentences for the writer: what happened, that nothing is
lost, what to do next. The command line prints it and ends with 2 for a `WriterError`, with 1 for
the rest.
"""


class RegletError(Exception):
    """Base of all errors below; its text is meant for the writer."""


class WriterError(RegletError):
    """Something the writer can put right."""


class UnknownThing(WriterError):
    """A scene, chapter, note, offcut or snapshot that this book does not hold."""


class CannotArrange(WriterError):
    """An operation on the book's order or division that has no meaning here."""


class DraftError(WriterError):
    """A draft file that cannot be brought in."""


class BookFileError(WriterError):
    """A book file that cannot be opened, read or written."""


class NewerBookFile(BookFileError):
    """A book file written by a later Reglet, which this one may read and not write."""


class BookFileInUse(BookFileError):
    """A book file that another window holds open for writing."""


class DamagedBookFile(BookFileError):
    """A book file that fails its own checks."""


class FaultOfOurs(RegletError):
    """A promise of Reglet's own that did not hold: a defect to report, with nothing written."""
