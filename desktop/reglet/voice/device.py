"""What plays sound: the window's device through Qt, or a silent one of a test's."""

from __future__ import annotations

from typing import Protocol

from reglet.errors import WriterError


class NoSoundDevice(WriterError):
    """There is nothing to play sound on, or it was pulled out."""


class SoundDevice(Protocol):
    """A device for 16-bit signed little-endian samples of one channel.

    Every method is called on one thread, returns at once, and raises NoSoundDevice where the device
    is not there (any more). The shorter the device's own buffer, the closer mark and sound: a fifth
    of a second serves.
    """

    def start(self, rate: int) -> None:
        """Be ready to play at `rate` samples a second; forget what was written before."""
        ...

    def room(self) -> int:
        """How many samples it would take now."""
        ...

    def write(self, samples: bytes) -> None:
        """Play these behind what was written before; never more than `room`."""
        ...

    def heard(self) -> int:
        """How many of the samples written since `start` have left the loudspeaker by now."""
        ...

    def pause(self) -> None:
        """Fall silent, and keep what has not been heard."""
        ...

    def resume(self) -> None:
        """Go on after `pause`."""
        ...

    def stop(self) -> None:
        """Fall silent at once, and let the device go."""
        ...
