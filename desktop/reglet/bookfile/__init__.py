"""The book file: one SQLite file that holds the book as it stands and its history.

Reading it without Reglet: any SQLite shell (3.37 or later) shows every word.

    sqlite3 Book.reglet "SELECT text FROM every_word_now"

The view `every_word_now` has one row a paragraph, in order, with its part, chapter, scene, title,
style and spans; front matter comes first, the Offcuts last. `every_word` has the same for every
state kept, and `snapshot` says which state each snapshot is of:

    SELECT id, made, label, reason, words FROM snapshot;
    SELECT text FROM every_word WHERE state = (SELECT state FROM snapshot WHERE id = 3)
     ORDER BY place, number;

Knows the manuscript and nothing above it.
"""

from reglet.bookfile.backups import backups
from reglet.bookfile.file import BookFile
from reglet.bookfile.salvaging import Salvaged, salvage
from reglet.bookfile.snapshot import NOW, Reason, Snapshot

__all__ = ["NOW", "BookFile", "Reason", "Salvaged", "Snapshot", "backups", "salvage"]
