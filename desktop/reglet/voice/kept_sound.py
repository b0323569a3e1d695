"""Sound kept on disk, so that a sentence heard once is not made again.

A cache: what is in it can be made again, so it never complains and never grows beyond its bound.
"""

from __future__ import annotations

import json
import os
import threading
from collections.abc import Mapping
from contextlib import suppress
from hashlib import blake2b
from pathlib import Path

import platformdirs

from reglet.voice.said_as import that_matter
from reglet.voice.sound import Spoken, SpokenWord
from reglet.voice.speaking import Speaker

BOUND = 512 * 1024 * 1024
"""Bytes kept at most: three hours of the built-in voice."""
_SUFFIX = ".spoken"
_FORM = 1
"""Raised whenever the same key would stand for other sound than before."""


def usual_folder() -> Path:
    """Where sound is kept on this system."""
    return platformdirs.user_cache_path("reglet") / "voice"


class KeptSound:
    """A folder of sentences already spoken. May be used from several threads."""

    def __init__(self, folder: Path, bound: int = BOUND) -> None:
        self._folder = folder
        self._bound = bound
        self._turn = threading.Lock()
        self._size = -1

    def get(self, key: str) -> Spoken | None:
        """What is kept under this key, or None."""
        path = self._path(key)
        try:
            head, _, samples = path.read_bytes().partition(b"\n")
            facts = json.loads(head)
            words = tuple(SpokenWord(*map(int, word)) for word in facts["words"])
            spoken = Spoken(samples, int(facts["rate"]), words, bool(facts["exact"]))
            if len(spoken) != facts["length"]:
                return None
            with suppress(OSError):
                os.utime(path)
            return spoken
        except (OSError, ValueError, TypeError, KeyError):
            return None

    def put(self, key: str, spoken: Spoken) -> None:
        """Keep this; if the folder cannot be written, nothing happens."""
        facts = {
            "rate": spoken.rate,
            "exact": spoken.exact,
            "length": len(spoken),
            "words": [[w.start, w.end, w.begins, w.ends] for w in spoken.words],
        }
        body = json.dumps(facts, separators=(",", ":")).encode("ascii") + b"\n" + spoken.samples
        path = self._path(key)
        with self._turn, suppress(OSError):
            self._folder.mkdir(parents=True, exist_ok=True)
            if self._size < 0:
                self._size = sum(each.stat().st_size for each in self._files())
            part = path.with_suffix(f".{os.getpid()}-{threading.get_ident()}")
            part.write_bytes(body)
            part.replace(path)
            self._size += len(body)
            if self._size > self._bound:
                self._make_room()

    def _make_room(self) -> None:
        """Drop what was heard longest ago, down to nine tenths of the bound."""
        kept = []
        for path in self._files():
            with suppress(OSError):
                told = path.stat()
                kept.append((told.st_mtime_ns, told.st_size, path))
        kept.sort()
        size = sum(each[1] for each in kept)
        for _, bytes_, path in kept:
            if size <= self._bound * 0.9:
                break
            with suppress(OSError):
                path.unlink()
                size -= bytes_
        self._size = size

    def _files(self) -> list[Path]:
        return [each for each in self._folder.iterdir() if each.suffix == _SUFFIX]

    def _path(self, key: str) -> Path:
        return self._folder / f"{key}{_SUFFIX}"


class KeepingSpeaker:
    """A speaker that first looks among what was kept."""

    def __init__(self, speaker: Speaker, kept: KeptSound) -> None:
        self._speaker = speaker
        self._kept = kept
        self.mark = speaker.mark
        self.rate = speaker.rate

    def speak(
        self, text: str, pace: float = 1.0, said_as: Mapping[str, str] | None = None
    ) -> Spoken:
        """See `Speaker`."""
        entries = that_matter(said_as or {}, text)
        key = key_of(self.mark, text, pace, entries)
        spoken = self._kept.get(key)
        if spoken is None:
            spoken = self._speaker.speak(text, pace, entries)
            self._kept.put(key, spoken)
        return spoken


def key_of(mark: str, text: str, pace: float, said_as: Mapping[str, str]) -> str:
    """What a sentence spoken so is kept under."""
    told = [_FORM, mark, text, round(pace, 3), sorted(said_as.items())]
    return blake2b(json.dumps(told).encode("ascii"), digest_size=16).hexdigest()
