"""What is heard when in the sound files, so that a spot noted away from the desk leads back."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from itertools import groupby
from pathlib import Path

from reglet.errors import WriterError
from reglet.manuscript.book import Book
from reglet.manuscript.scene import Scene
from reglet.voice.reading_order import Place

LIST_NAME = "cues.json"
TEXT_NAME = "cues.txt"
_SPOT = re.compile(
    r"(?<![\w:])(?:(?:ch|chap|chapter)\.?\s*)?(?P<chapter>\d+)\s*[,;:\s]\s*"
    r"(?:(?P<hours>\d+):(?=\d+:))?(?P<minutes>\d+):(?P<seconds>[0-5]?\d)(?![\w:])",
    re.IGNORECASE,
)
_OPENING = 8
"""Words of a paragraph that the list to be read shows."""


@dataclass(frozen=True, slots=True)
class Cue:
    """A sentence: the second of its file it begins at, and where it stood in its scene.

    The cue of a chapter's heading has no `text`.
    """

    second: float
    scene: str
    paragraph: int
    position: int
    text: str


@dataclass(frozen=True, slots=True)
class ChapterCues:
    """One sound file: its name, the chapter's number (from 1) and title, its length in seconds."""

    number: int
    title: str
    file: str
    seconds: float
    cues: tuple[Cue, ...]


@dataclass(frozen=True, slots=True)
class CueList:
    """All sound files of one reading."""

    title: str
    chapters: tuple[ChapterCues, ...]


def time_told(seconds: float) -> str:
    """A time in a file as a player shows it: "12:40", "1:02:05"."""
    whole = int(seconds)
    hours, rest = divmod(whole, 3600)
    minutes, left = divmod(rest, 60)
    return f"{hours}:{minutes:02}:{left:02}" if hours else f"{minutes}:{left:02}"


def write_cues(cues: CueList, book: Book, folder: Path) -> None:
    """The list for Reglet (JSON) and for people (text), in the folder of the sound files."""
    told = json.dumps(asdict(cues), ensure_ascii=False, indent=1)
    (folder / LIST_NAME).write_text(told + "\n", encoding="utf-8")
    (folder / TEXT_NAME).write_text("\n".join(_lines(cues, book)) + "\n", encoding="utf-8")


def read_cues(folder: Path) -> CueList:
    """The list in a folder of sound files. Raises WriterError."""
    path = folder / LIST_NAME
    try:
        told = json.loads(path.read_text(encoding="utf-8"))
        return CueList(
            str(told["title"]),
            tuple(
                ChapterCues(
                    int(each["number"]),
                    str(each["title"]),
                    str(each["file"]),
                    float(each["seconds"]),
                    tuple(Cue(**cue) for cue in each["cues"]),
                )
                for each in told["chapters"]
            ),
        )
    except OSError as error:
        raise WriterError(
            f"There is no cue list {path}. It is written beside the sound files by “reglet "
            "listen”; name the folder they are in."
        ) from error
    except (ValueError, KeyError, TypeError) as error:
        raise WriterError(
            f"{path} is no cue list that Reglet wrote ({error}). The sound files are as they were; "
            "“reglet listen” writes both anew."
        ) from error


def spot_told(told: str) -> tuple[int, float]:
    """The chapter's number and the second of "ch. 7, 12:40". Raises WriterError."""
    found = spots_told(told)
    if len(found) > 1:
        raise _no_spot(told)
    return found[0]


def spots_told(told: str) -> list[tuple[int, float]]:
    """The chapters and seconds of one spot or several, such as "ch. 7, 12:40; ch. 9, 3:05".

    Raises WriterError where anything else stands among them.
    """
    found = list(_SPOT.finditer(told))
    if not found or _SPOT.sub("", told).strip(" ;,\n\t"):
        raise _no_spot(told)
    spots = []
    for match in found:
        hours, minutes = int(match["hours"] or 0), int(match["minutes"])
        second = 3600 * hours + 60 * minutes + int(match["seconds"])
        spots.append((int(match["chapter"]), float(second)))
    return spots


def _no_spot(told: str) -> WriterError:
    return WriterError(
        f"“{told}” is not a spot in a sound file. Write the chapter and the time as your player "
        "shows it, such as “ch. 7, 12:40”; of several, one after another, with “;” between."
    )


def cue_at(cues: CueList, chapter: int, second: float) -> Cue:
    """The sentence being read at that second of a chapter's file. Raises WriterError."""
    found = next((each for each in cues.chapters if each.number == chapter), None)
    if found is None or not found.cues:
        there = ", ".join(str(each.number) for each in cues.chapters if each.cues)
        raise WriterError(
            f"There is no sound of a chapter {chapter} in this list; it has {there or 'none'}."
        )
    if second > found.seconds + 1:
        raise WriterError(
            f"Chapter {chapter} lasts {time_told(found.seconds)}; {time_told(second)} is beyond "
            "its end. Check the time, or the chapter."
        )
    return [cue for cue in found.cues if cue.second <= second or cue is found.cues[0]][-1]


def place_now(book: Book, cue: Cue) -> Place:
    """Where the words of a cue stand now: the same sentence nearest to where it was, or, if it
    has been rewritten, the place where it was. Raises UnknownThing if its scene is gone.
    """
    text = book.scene(cue.scene).passage.text
    found = [match.start() for match in re.finditer(re.escape(cue.text), text)] if cue.text else []
    if found:
        return Place(cue.scene, min(found, key=lambda at: abs(at - cue.position)))
    elsewhere = _scene_with(book.texts, cue.text)
    if elsewhere is not None:
        return elsewhere
    return Place(cue.scene, min(cue.position, len(text)))


def _scene_with(scenes: Iterable[Scene], text: str) -> Place | None:
    """Where a long sentence stands now if it was moved to another scene."""
    if len(text) < 40:
        return None
    for scene in scenes:
        at = scene.passage.text.find(text)
        if at >= 0:
            return Place(scene.id, at)
    return None


def _lines(cues: CueList, book: Book) -> Iterable[str]:
    yield cues.title
    for chapter in cues.chapters:
        yield ""
        length = time_told(chapter.seconds)
        yield f"ch. {chapter.number}  {chapter.title}  ({chapter.file}, {length})".replace(
            "  (", " ("
        )
        for scene_id, of_scene in groupby(chapter.cues, key=lambda cue: cue.scene):
            inside = [cue for cue in of_scene if cue.text]
            title = book.scene(scene_id).title if book.has_scene(scene_id) else ""
            if title and inside:
                yield f"  {time_told(inside[0].second):>7}  {title}"
            for _, of_paragraph in groupby(inside, key=lambda cue: cue.paragraph):
                first = next(of_paragraph)
                words = first.text.split()
                more = " …" if len(words) > _OPENING else ""
                yield f"  {time_told(first.second):>7}    {' '.join(words[:_OPENING])}{more}"
