"""How the names of this book are said: its own dictionary, kept in the style sheet."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

from reglet.errors import WriterError
from reglet.language.words import plain
from reglet.manuscript.book import Book, StyleSheet
from reglet.manuscript.words import word_pattern
from reglet.voice.reading_order import of_scene


def dictionary(style_sheet: StyleSheet) -> dict[str, str]:
    """What is said for each word, by the word in lower case and with straight apostrophes."""
    return {plain(word): said for word, said in style_sheet.said_as}


def with_said(book: Book, word: str, said: str) -> Book:
    """The book whose dictionary says `said` for `word`, or nothing of it where `said` is empty.

    `said` is a respelling ("eye-sora") or IPA in [[ ]]. A word's possessive follows it. Raises
    WriterError for what is no single word or holds a bracket that is not closed.
    """
    word, said = word.strip(), " ".join(said.split())
    if word_pattern(word).fullmatch(word) is None:
        raise WriterError(
            f"“{word}” is not one word. Enter each word of a name by itself; nothing was changed."
        )
    if said and ("[" in said or "]" in said):
        inner = said[2:-2].strip()
        if not (said.startswith("[[") and said.endswith("]]")) or not inner or "[" in inner:
            raise WriterError(
                f"“{said}” cannot be said. Sounds in IPA stand between [[ and ]]; anything else is "
                "spelt as it sounds. Nothing was changed."
            )
    others = [(w, s) for w, s in book.style_sheet.said_as if plain(w) != plain(word)]
    entries = sorted([*others, (word, said)] if said else others, key=lambda each: plain(each[0]))
    return replace(book, style_sheet=replace(book.style_sheet, said_as=tuple(entries)))


def sentence_with(book: Book, word: str) -> str:
    """The first sentence of the book in which a word stands, to hear it in; the word itself, if it
    stands in none.
    """
    whole = re.compile(rf"(?<!\w){re.escape(word)}(?!\w)")
    for scene in book.texts:
        match = whole.search(scene.passage.text)
        if match is not None:
            for piece in of_scene(scene):
                if piece.start <= match.start() < piece.end:
                    return piece.text
    return word


def that_matter(entries: Mapping[str, str], text: str) -> dict[str, str]:
    """The entries that `text` may call on: the rest change nothing of how it sounds."""
    if not entries:
        return {}
    lowered = plain(text)
    return {word: said for word, said in entries.items() if word in lowered}
