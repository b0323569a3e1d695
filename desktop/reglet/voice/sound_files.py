"""The book as sound files, one a chapter, to listen to away from the desk."""

from __future__ import annotations

import errno
import re
import shutil
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any

from reglet.errors import WriterError
from reglet.language.sentences import sentences
from reglet.manuscript.book import Book, Chapter
from reglet.manuscript.paragraph import LINE_BREAK
from reglet.manuscript.words import count_words
from reglet.voice.cues import LIST_NAME, TEXT_NAME, ChapterCues, Cue, CueList, write_cues
from reglet.voice.reading_order import AFTER_SENTENCE, Piece, pieces
from reglet.voice.said_as import dictionary
from reglet.voice.sound import Spoken
from reglet.voice.speaking import Speaker
from reglet.voice.voices import VoiceMissing

Progress = Callable[[float], None]
_NO_ROOM = 1_000_000
"""A disk with fewer bytes free than this is full to a sound file."""
_LEAST_FREE = 4
"""Sentences in the making for each thread: what bounds the memory."""
_NOT_IN_NAMES = re.compile(r'[\\/:*?"<>|\x00-\x1f]+')


class SoundFormat(StrEnum):
    """A kind of sound file; the value is also the ending of its name."""

    OPUS = "opus"
    MP3 = "mp3"
    WAV = "wav"


_LIBRARY_NAMES = {
    SoundFormat.OPUS: ("OGG", "OPUS"),
    SoundFormat.MP3: ("MP3", "MPEG_LAYER_III"),
    SoundFormat.WAV: ("WAV", "PCM_16"),
}


_RATES = {
    SoundFormat.OPUS: (8_000, 12_000, 16_000, 24_000, 48_000),
    SoundFormat.MP3: (8_000, 11_025, 12_000, 16_000, 22_050, 24_000, 32_000, 44_100, 48_000),
}
"""Samples a second that a format knows: RFC 6716, section 2; ISO/IEC 11172-3 and 13818-3. WAV takes
any.
"""


class Stopped(WriterError):
    """The writer stopped the work before its end."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be written: the chapters by their number from 1 (all where there are none), the
    format, the pace, and on how many threads the voice works.
    """

    chapters: tuple[int, ...] = ()
    format: SoundFormat = SoundFormat.OPUS
    pace: float = 1.0
    threads: int = 2
    overwrite: bool = False


def write_sound(
    book: Book,
    folder: Path,
    speaker: Speaker,
    wanted: Wanted,
    progress: Progress = lambda done: None,
    stopped: Callable[[], bool] = lambda: False,
) -> CueList:
    """Write the chapters as sound files into `folder`, with their cue lists; `progress` is told
    what part of the words is done.

    A file appears under its name only when it is whole. Raises WriterError where a file is there
    already and not to be written over, a chapter does not exist, or the disk does not take it;
    VoiceMissing; Stopped.
    """
    _check_library()
    chosen = _chosen(book, wanted.chapters)
    targets = [folder / _file_name(number, chapter, wanted.format) for number, chapter in chosen]
    _check_free([*targets, folder / LIST_NAME, folder / TEXT_NAME], wanted.overwrite)
    whole = sum(_words(chapter) for _, chapter in chosen) or 1
    done = 0
    cues: list[ChapterCues] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with ThreadPoolExecutor(wanted.threads) as pool:
            for (number, chapter), target in zip(chosen, targets, strict=True):
                before = done

                def told(words: int, before: int = before) -> None:
                    if stopped():
                        raise Stopped("Stopped. The chapters already written are whole.")
                    progress((before + words) / whole)

                spoken = _spoken_in_order(book, chapter, speaker, wanted, pool)
                part = target.with_name(f".{target.name}.part")
                try:
                    found, seconds = _write(part, spoken, speaker.rate, wanted.format, told)
                    _tag(part, wanted.format, book, number, chapter, len(book.chapters))
                    part.replace(target)
                finally:
                    with suppress(OSError):
                        part.unlink()
                title = chapter.title.replace(LINE_BREAK, " ")
                cues.append(ChapterCues(number, title, target.name, round(seconds, 2), found))
                done += _words(chapter)
        cue_list = CueList(book.title, tuple(cues))
        write_cues(cue_list, book, folder)
    except OSError as error:
        raise _cannot_write(folder, error) from error
    return cue_list


def write_sentence(
    text: str, target: Path, speaker: Speaker, wanted: Wanted, book: Book | None = None
) -> float:
    """Write one text as a sound file, with the names of `book` as it has them said; the length in
    seconds. Raises WriterError, VoiceMissing.
    """
    _check_library()
    _check_free([target], wanted.overwrite)

    said_as = dictionary(book.style_sheet) if book is not None else {}

    def spoken() -> Iterator[tuple[Piece, Spoken]]:
        for number, paragraph in enumerate(text.splitlines()):
            for sentence in sentences(paragraph):
                said = paragraph[sentence.start : sentence.end]
                piece = Piece("", sentence.start, sentence.end, said, AFTER_SENTENCE, number)
                sound = speaker.speak(said, wanted.pace, said_as)
                yield piece, sound.with_pause(piece.pause / wanted.pace)

    try:
        _, seconds = _write(target, spoken(), speaker.rate, wanted.format, lambda words: None)
    except OSError as error:
        raise _cannot_write(target, error) from error
    return seconds


def _spoken_in_order(
    book: Book, chapter: Chapter, speaker: Speaker, wanted: Wanted, pool: ThreadPoolExecutor
) -> Iterator[tuple[Piece, Spoken]]:
    """The sentences of a chapter, made several at a time and given in order."""
    said_as = dictionary(book.style_sheet)

    def speak(piece: Piece) -> Spoken:
        spoken = speaker.speak(piece.text, wanted.pace, said_as)
        return spoken.with_pause(piece.pause / wanted.pace)

    making: deque[tuple[Piece, Future[Spoken]]] = deque()
    try:
        for piece in pieces(book, chapter=chapter.id):
            making.append((piece, pool.submit(speak, piece)))
            if len(making) >= _LEAST_FREE * wanted.threads:
                ready, sound = making.popleft()
                yield ready, sound.result()
        while making:
            ready, sound = making.popleft()
            yield ready, sound.result()
    finally:
        for _, sound in making:
            sound.cancel()


def _write(
    path: Path,
    spoken: Iterator[tuple[Piece, Spoken]],
    rate: int,
    kind: SoundFormat,
    told: Callable[[int], None],
) -> tuple[tuple[Cue, ...], float]:
    import numpy as np
    import soundfile
    import soxr

    rates = _RATES.get(kind, (rate,))
    file_rate = next((each for each in rates if each >= rate), rates[-1])
    converter: Any = None
    if file_rate != rate:
        converter = soxr.ResampleStream(rate, file_rate, 1, dtype="int16")
    library_format, subtype = _LIBRARY_NAMES[kind]
    cues: list[Cue] = []
    length = words = 0
    try:
        with soundfile.SoundFile(
            path, "w", file_rate, 1, subtype=subtype, format=library_format
        ) as file:
            for piece, sound in spoken:
                cues.append(
                    Cue(
                        round(length / rate, 2),
                        piece.scene,
                        piece.paragraph,
                        piece.start,
                        "" if piece.heading else piece.text,
                    )
                )
                samples = np.frombuffer(sound.samples, "<i2")
                file.write(samples if converter is None else converter.resample_chunk(samples))
                length += len(sound)
                words += count_words(piece.text)
                told(words)
            if converter is not None:
                file.write(converter.resample_chunk(np.empty(0, np.int16), last=True))
    except soundfile.LibsndfileError as error:
        raise OSError(str(error)) from error
    finally:
        close = getattr(spoken, "close", None)
        if close is not None:
            close()
    return tuple(cues), length / rate


def _tag(
    path: Path, kind: SoundFormat, book: Book, number: int, chapter: Chapter, count: int
) -> None:
    """Title, book, author and number where players look for them."""
    tags = {
        "title": chapter.title.replace(LINE_BREAK, " ") or f"Chapter {number}",
        "album": book.title,
        "artist": book.author,
        "tracknumber": f"{number}/{count}",
    }
    tags = {name: value for name, value in tags.items() if value}
    if kind is SoundFormat.OPUS:
        from mutagen.oggopus import OggOpus

        file = OggOpus(path)
        for name, value in tags.items():
            file[name] = [value]
        file.save()
        return
    from mutagen.id3 import TALB, TIT2, TPE1, TRCK
    from mutagen.mp3 import MP3
    from mutagen.wave import WAVE

    frames = {"title": TIT2, "album": TALB, "artist": TPE1, "tracknumber": TRCK}
    file = MP3(path) if kind is SoundFormat.MP3 else WAVE(path)
    if file.tags is None:
        file.add_tags()
    for name, value in tags.items():
        file.tags.add(frames[name](encoding=3, text=[value]))
    file.save()


def _chosen(book: Book, numbers: Sequence[int]) -> list[tuple[int, Chapter]]:
    counted = list(enumerate(book.chapters, start=1))
    for number in numbers:
        if not 1 <= number <= len(counted):
            raise WriterError(
                f"There is no chapter {number}: the book has {len(counted)}. Nothing was written."
            )
    return [each for each in counted if not numbers or each[0] in numbers]


def _file_name(number: int, chapter: Chapter, kind: SoundFormat) -> str:
    title = _NOT_IN_NAMES.sub(" ", chapter.title.replace(LINE_BREAK, " "))
    title = " ".join(title.split())[:60].strip(" .")
    return f"{number:02} {title}".strip() + f".{kind}"


def _check_free(targets: Sequence[Path], overwrite: bool) -> None:
    taken = [target for target in targets if target.exists()]
    if taken and not overwrite:
        raise WriterError(
            f"{taken[0]} is there already and was left as it is. Choose another place, or say that "
            "files may be replaced (--overwrite)."
        )


def _check_library() -> None:
    try:
        import mutagen  # noqa: F401
        import soundfile  # noqa: F401
        import soxr  # noqa: F401
    except (ImportError, OSError) as error:  # OSError: the package without its library
        raise VoiceMissing(
            "Sound files need the packages soundfile, soxr and mutagen, and one of them is not "
            f"installed ({error}). Everything else works without."
        ) from error


def _words(chapter: Chapter) -> int:
    return count_words(chapter.title) + sum(scene.passage.word_count for scene in chapter.scenes)


def _cannot_write(path: Path, error: OSError) -> WriterError:
    folder = path if path.is_dir() else path.parent
    full = error.errno == errno.ENOSPC or (
        folder.exists() and shutil.disk_usage(folder).free < _NO_ROOM
    )
    why = "The disk is full" if full else (error.strerror or str(error)).rstrip(".")
    return WriterError(
        f"{path} could not be written: {why}. The book is as it was. Choose another place, or make "
        "room on the disk."
    )
