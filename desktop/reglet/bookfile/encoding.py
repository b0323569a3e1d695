"""Values of the manuscript as JSON and back, and the hash that each stored thing goes by.

JSON is written in one canonical form (keys in the order of the fields, sets sorted), so equal
values have equal hashes. No default is left out: a later Reglet with another default reads the same
book. Reading passes over keys it does not know, so that a later Reglet may add some, and fails on a
value that has the wrong shape.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import replace
from hashlib import blake2b
from typing import Any, TypeVar, get_origin

import cattrs
from cattrs.gen import make_dict_structure_fn, make_dict_unstructure_fn, override
from cattrs.preconf.json import JsonConverter, make_converter

from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.paragraph import Paragraph, Span, SpanKind, Style
from reglet.manuscript.picture import Picture
from reglet.manuscript.scene import Scene

_NO_CHARACTER = re.compile("[\ud800-\udfff]")
"""Halves of UTF-16 pairs on their own: no character, and nothing that UTF-8 can hold."""

_T = TypeVar("_T")

_FACTS = ("plan", "cast", "threads", "style_sheet")
"""The fields of a book that say nothing of its order."""


class Unreadable(ValueError):
    """Stored JSON that does not have the shape of the value it should be."""


def storable(text: str) -> str:
    """`text` with each stray half of a surrogate pair as U+FFFD, so that it can be stored at all.

    Its length in code points stays the same.
    """
    return _NO_CHARACTER.sub("\ufffd", text)


def hash_of(*parts: str) -> bytes:
    """The 16-byte BLAKE2b (RFC 7693) of these texts, told apart from one another.

    It is taken over `["part", "part"]` as JSON in ASCII with `", "` between, so any language with
    BLAKE2b can take it again.
    """
    return blake2b(json.dumps(parts).encode("ascii"), digest_size=16).digest()


def spans_to_json(paragraph: Paragraph) -> str:
    """The spans of a paragraph as `[[start, end, "kind", "value"], …]`."""
    if not paragraph.spans:
        return "[]"
    return dumped([[s.start, s.end, s.kind, s.value] for s in paragraph.spans])


def paragraph_from(style: str, text: str, spans: str) -> Paragraph:
    """A paragraph from its stored form. Raises Unreadable."""
    try:
        found = tuple(Span(a, b, SpanKind(k), v) for a, b, k, v in json.loads(spans))
        return Paragraph(text, Style(style), found)
    except (ValueError, TypeError) as error:
        raise Unreadable(str(error)) from error


def scene_to_json(scene: Scene) -> str:
    """All of a scene but its text."""
    return dumped(_SCENES.unstructure(scene))


def scene_from_json(body: str) -> Scene:
    """The scene of `scene_to_json`, with an empty text. Raises Unreadable."""
    return _structured(body, Scene, _SCENES)


def outline_to_json(book: Book) -> str:
    """The order of a book: its title, parts, chapters, offcuts, each scene as its id, the cover as
    the hash of its picture.
    """
    whole = _OUTLINES.unstructure(book)
    return dumped({key: value for key, value in whole.items() if key not in _FACTS})


def facts_to_json(book: Book) -> str:
    """What a book holds beside its order and its scenes: plan, cast, threads, style sheet."""
    whole = _OUTLINES.unstructure(book)
    return dumped({key: value for key, value in whole.items() if key in _FACTS})


def scene_ids(outline: str) -> list[str]:
    """The ids of the scenes that an outline names, in the order of `scenes_in_order`.

    Raises Unreadable.
    """
    return [scene.id for scene in scenes_in_order(_structured(outline, Book, _OUTLINES))]


def cover_key(outline: str) -> bytes | None:
    """The hash of the picture that an outline names as the cover. Raises Unreadable."""
    try:
        named = json.loads(outline).get("cover")
        return bytes.fromhex(named) if named else None
    except (ValueError, TypeError, AttributeError) as error:
        raise Unreadable(str(error)) from error


def book_from_json(outline: str, facts: str, scenes: Iterator[Scene]) -> Book:
    """A book from its two documents and its scenes in the order of `scenes_in_order`, as yet
    without its cover.

    Raises Unreadable, also for too few scenes.
    """
    order = _structured(outline, Book, _OUTLINES)
    rest = _structured(facts, Book, _OUTLINES)

    def filled(placeholders: tuple[Scene, ...]) -> tuple[Scene, ...]:
        return tuple(next(scenes) for _ in placeholders)

    def filled_chapter(chapter: Chapter) -> Chapter:
        return replace(chapter, scenes=filled(chapter.scenes))

    def filled_part(part: Part) -> Part:
        return replace(part, chapters=tuple(map(filled_chapter, part.chapters)))

    try:
        front = filled(order.front)
        parts = tuple(map(filled_part, order.parts))
        back = filled(order.back)
        offcuts = tuple(replace(each, scene=next(scenes)) for each in order.offcuts)
    except (StopIteration, RuntimeError) as error:
        raise Unreadable("the outline names more scenes than are stored") from error
    kept = {name: getattr(rest, name) for name in _FACTS}
    return replace(order, front=front, parts=parts, back=back, offcuts=offcuts, **kept)


def scenes_in_order(book: Book) -> Iterator[Scene]:
    """Every scene that a book holds: front matter, body, back matter, Offcuts."""
    yield from book.texts
    for offcut in book.offcuts:
        yield offcut.scene


def dumped(value: object) -> str:
    """`value` as compact JSON that can be stored."""
    return storable(json.dumps(value, ensure_ascii=False, separators=(",", ":")))


def _structured(body: str, kind: type[_T], converter: JsonConverter) -> _T:
    try:
        return converter.structure(json.loads(body), kind)
    except (ValueError, TypeError, KeyError, cattrs.BaseValidationError) as error:
        raise Unreadable(str(error)) from error


def _sorted(members: frozenset[Any], converter: JsonConverter) -> list[Any]:
    return sorted((converter.unstructure(each) for each in members), key=dumped)


def _is_frozenset(kind: object) -> bool:
    return get_origin(kind) is frozenset


def _converter() -> JsonConverter:
    converter = make_converter()
    converter.register_unstructure_hook_func(_is_frozenset, lambda value: _sorted(value, converter))
    return converter


def _for_scenes() -> JsonConverter:
    converter = _converter()
    without_text = override(omit=True)
    converter.register_unstructure_hook(
        Scene, make_dict_unstructure_fn(Scene, converter, passage=without_text)
    )
    converter.register_structure_hook(
        Scene, make_dict_structure_fn(Scene, converter, passage=without_text)
    )
    return converter


def _for_outlines() -> JsonConverter:
    converter = _converter()
    converter.register_unstructure_hook(Scene, lambda scene: scene.id)
    converter.register_structure_hook(Scene, lambda scene_id, _: Scene(str(scene_id)))
    converter.register_unstructure_hook(Picture, lambda picture: picture.digest.hex())
    converter.register_structure_hook(
        Book, make_dict_structure_fn(Book, converter, cover=override(omit=True))
    )
    return converter


_SCENES = _for_scenes()
_OUTLINES = _for_outlines()
