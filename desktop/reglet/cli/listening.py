"""Commands for the ear: the book as sound files, and what has been heard of it."""

from __future__ import annotations

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from pathlib import Path

from reglet.bookfile import BookFile
from reglet.cli.reading import read
from reglet.cli.telling import Progress, answer, answer_json, on_one_line
from reglet.errors import WriterError
from reglet.manuscript.book import Book
from reglet.numbers import counted
from reglet.voice.coverage import Coverage, of_scene, of_scenes, seconds_left, seconds_to_aim
from reglet.voice.cues import cue_at, place_now, read_cues, spot_told, time_told
from reglet.voice.said_as import with_said
from reglet.voice.speaking import FASTEST, SLOWEST, Speaker

FORMATS = ("opus", "mp3", "wav")


def add_voice_options(each: ArgumentParser) -> None:
    """How it is to sound: what `listen` and `say` are both told."""
    each.add_argument("--format", choices=FORMATS, help="the kind of sound file")
    each.add_argument(
        "--pace", type=_pace, default=1.0, metavar="N", help=f"from {SLOWEST} to {FASTEST}; 1.0"
    )
    each.add_argument("--voice", metavar="VOICE", help="a Piper voice file, or “espeak-ng:en-gb”")
    each.add_argument("--overwrite", action="store_true", help="replace files that are there")


def listen(asked: Namespace) -> int:
    """Write the book, or some of its chapters, as sound files."""
    from reglet.voice.sound_files import SoundFormat, Wanted, write_sound

    book = read(asked)
    wanted = Wanted(
        tuple(asked.chapter or ()),
        SoundFormat(asked.format or "opus"),
        asked.pace,
        overwrite=asked.overwrite,
    )
    progress = Progress("Reading aloud")
    written = write_sound(book, asked.to, _speaker(asked.voice, book), wanted, progress)
    progress.end()
    seconds = sum(chapter.seconds for chapter in written.chapters)
    count = counted(len(written.chapters), "chapter")
    answer([f"{asked.to}: {count}, {time_told(seconds)}, with a list of what is heard when."])
    return 0


def say(asked: Namespace) -> int:
    """Write a text as one sound file, to try a voice or how a name is said."""
    from reglet.voice.sound_files import SoundFormat, Wanted, write_sentence

    target: Path = asked.to
    kind = asked.format or target.suffix.lower().lstrip(".")
    if kind not in FORMATS:
        raise WriterError(
            f"“{target.name}” is not a kind of sound file that Reglet writes: .opus, .mp3 or .wav."
        )
    book = read(asked) if asked.book is not None else Book()
    wanted = Wanted(format=SoundFormat(kind), pace=asked.pace, overwrite=asked.overwrite)
    seconds = write_sentence(asked.text, target, _speaker(asked.voice, book), wanted, book)
    answer([f"{target}: {seconds:.1f} seconds."])
    return 0


def said(asked: Namespace) -> int:
    """Tell how the book's names are said, or have one said so from now on."""
    if asked.word is None:
        entries = read(asked).style_sheet.said_as
        answer([f"{word}\t{told}" for word, told in entries] or ["No name has a way of its own."])
        return 0
    if asked.as_ is None and not asked.forget:
        raise WriterError(
            f"Say how “{asked.word}” is said, spelt as it sounds or as IPA in [[ ]], or --forget."
        )
    with BookFile.open(asked.book) as file:
        file.save(with_said(file.book, asked.word, "" if asked.forget else asked.as_))
    told = "its own way by the voice" if asked.forget else f"“{asked.as_}”"
    answer([f"“{asked.word}” is said {told}."])
    return 0


def voices(asked: Namespace) -> int:
    """Tell the voices that sound files can be written with, best first."""
    from reglet.voice.voices import NO_VOICE, voices

    found = voices(asked.language)
    answer([f"{voice.id}\t{voice.language}\t{voice.name}" for voice in found] or [NO_VOICE])
    return 0


def heard(asked: Namespace) -> int:
    """Tell how often each scene has been heard since it last changed."""
    book, aim = read(asked), asked.aim
    whole = of_scenes(book.texts)
    left = seconds_left(book)
    if asked.json:
        answer_json(
            {
                "aim": aim,
                "book": _facts(whole, aim),
                "seconds_of_one_hearing": round(left),
                "seconds_to_the_aim": round(seconds_to_aim(whole, aim)),
                "scenes": [
                    {"scene": scene.id, "title": scene.title, **_facts(of_scene(scene), aim)}
                    for scene in book.texts
                ],
            }
        )
        return 0
    lines = []
    for _, chapter, scene in book.walk():
        if chapter is not None and chapter.scenes[0] is scene:
            lines.append(on_one_line(chapter.title) or "(a chapter without a title)")
        covered = of_scene(scene)
        ticks = " ".join(f"{covered.share(times):4.0%}" for times in range(1, aim + 1))
        lines.append(f"  {ticks}  {scene.id}  {scene.title}".rstrip())
    lines.append(
        f"Heard {whole.hearings:.1f} of {counted(aim, 'time')}. One hearing of the book takes "
        f"{time_told(left)} at the voice's own pace; until the aim is reached, "
        f"{time_told(seconds_to_aim(whole, aim))} are left."
    )
    answer(lines)
    return 0


def spot(asked: Namespace) -> int:
    """Tell where in the book a spot in the sound files is."""
    book = read(asked)
    chapter, second = spot_told(asked.spot)
    cue = cue_at(read_cues(asked.folder), chapter, second)
    place = place_now(book, cue)
    scene = book.scene(place.scene)
    number, _ = scene.passage.locate(place.position)
    text = scene.passage.paragraphs[number].text
    if asked.json:
        answer_json(
            {
                "scene": scene.id,
                "title": scene.title,
                "position": place.position,
                "paragraph": number,
                "said": cue.text,
                "text": text,
            }
        )
    else:
        named = f"{scene.id}  {scene.title}".rstrip()
        answer([f"{named}, paragraph {number + 1}, position {place.position}:", text])
    return 0


def _speaker(voice: str | None, book: Book) -> Speaker:
    from reglet.voice.speaking import speaker
    from reglet.voice.voices import piper_voice, voice_named

    if voice is not None and voice.endswith(".onnx"):
        return speaker(piper_voice(Path(voice)))
    return speaker(voice_named(voice or "", book.style_sheet.language))


def _facts(covered: Coverage, aim: int) -> dict[str, object]:
    return {
        "words": covered.words,
        "hearings": round(covered.hearings, 2),
        "heard_at_least": {
            str(times): round(covered.share(times), 3) for times in range(1, aim + 1)
        },
    }


def _pace(told: str) -> float:
    try:
        pace = float(told)
    except ValueError:
        pace = 0.0
    if not SLOWEST <= pace <= FASTEST:
        raise ArgumentTypeError(f"“{told}” is not a pace from {SLOWEST} to {FASTEST}")
    return pace
