"""A voice in a process of its own."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from typing import Any

from reglet.voice.sound import Spoken
from reglet.voice.voices import Voice, VoiceMissing
from reglet.window import beside
from reglet.window.voice_process import Ask, Ready, Silent, work

_LOADING = 60
"""Seconds that a voice may take to load, on a slow disk."""
_SPEAKING = 60
"""Seconds that it may take over one sentence."""


class FarSpeaker:
    """A `Speaker`, once `load` has returned. Its process is started at once. Any thread may call
    it, and none holds up another that does not call it.
    """

    mark = ""
    rate = 0

    def __init__(self, voice: Voice) -> None:
        self._name = voice.name
        self._turn = threading.Lock()
        self._process, self._pipe = beside.start(work, voice)

    def load(self) -> None:
        """Wait until it can speak. Raises VoiceMissing."""
        with self._turn:
            if not self.rate:
                ready: Ready = self._answer(_LOADING)
                self.mark, self.rate = ready.mark, ready.rate

    def speak(
        self, text: str, pace: float = 1.0, said_as: Mapping[str, str] | None = None
    ) -> Spoken:
        """See `Speaker`."""
        with self._turn:
            try:
                self._pipe.send(Ask(text, pace, dict(said_as or {})))
            except OSError as error:
                raise self._ended() from error
            spoken: Spoken = self._answer(_SPEAKING)
            return spoken

    @property
    def alive(self) -> bool:
        """Whether it can still speak, or is loading."""
        return self._process.is_alive()

    def close(self) -> None:
        """End the process, whatever it is at; whoever waits for it is told."""
        self._process.terminate()
        self._process.join()

    def _answer(self, seconds: float) -> Any:
        try:
            if not self._pipe.poll(seconds):
                self.close()  # what it says later would be taken for the answer to another question
                raise self._ended()
            answer = self._pipe.recv()
        except (EOFError, OSError) as error:
            raise self._ended() from error
        if isinstance(answer, Silent):
            raise VoiceMissing(answer.why)
        return answer

    def _ended(self) -> VoiceMissing:
        return VoiceMissing(
            f"The voice “{self._name}” stopped working. Nothing in the book has changed; start "
            "listening again, or choose another voice."
        )
