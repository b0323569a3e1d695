"""How long the writer has listened without a rest, and when a word about that is due. No Qt."""

from __future__ import annotations

from reglet.voice.coverage import word_of_rest

_A_REST = 5 * 60
"""Seconds of silence that count as a rest."""


class TimeListened:
    """Counts seconds of listening. `now` is of any clock that runs on, in seconds."""

    def __init__(self) -> None:
        self.seconds = 0.0
        """Seconds listened since the last rest."""
        self._told = 0.0
        self._since: float | None = None
        self._silent_since = float("-inf")

    def begin(self, now: float) -> None:
        """The voice reads from now on."""
        if now - self._silent_since > _A_REST:
            self.seconds = self._told = 0.0
        self._since = now

    def end(self, now: float) -> None:
        """The voice is silent from now on."""
        self.note(now)
        self._since, self._silent_since = None, now

    def note(self, now: float) -> str:
        """Time has gone by: a word of rest where one is due, else nothing."""
        if self._since is None:
            return ""
        self.seconds += now - self._since
        self._since = now
        said = word_of_rest(self.seconds, self._told)
        if said:
            self._told = self.seconds
        return said
