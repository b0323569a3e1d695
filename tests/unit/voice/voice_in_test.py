"""A voice and a device that make no sound: each word lasts a tenth of a second."""

from reglet.voice.device import NoSoundDevice
from reglet.voice.said import units
from reglet.voice.sound import Spoken, SpokenWord

RATE = 1000
WORD = 100


class Whisper:
    """A speaker; `fails` makes it raise that."""

    mark = "whisper"
    rate = RATE

    def __init__(self):
        self.spoken = []
        self.fails = None

    def speak(self, text, pace=1.0, said_as=None):
        if self.fails:
            raise self.fails
        self.spoken.append(text)
        length = round(WORD / pace)
        found = units(text, said_as)
        words = tuple(
            SpokenWord(u.start, u.end, n * length, (n + 1) * length) for n, u in enumerate(found)
        )
        return Spoken(b"\1\0" * (length * len(found)), RATE, words)


class Deaf:
    """A device whose clock the test moves on with `play`."""

    def __init__(self, buffer=200):
        self.buffer = buffer
        self.written = self.played = 0
        self.playing = self.gone = False

    def start(self, rate):
        self._check()
        self.written = self.played = 0
        self.playing = True

    def room(self):
        self._check()
        return self.buffer - (self.written - self.played)

    def write(self, samples):
        assert len(samples) // 2 <= self.room()
        self.written += len(samples) // 2

    def heard(self):
        self._check()
        return self.played

    def pause(self):
        self._check()
        self.playing = False

    def resume(self):
        self._check()
        self.playing = True

    def stop(self):
        self.playing = False

    def play(self, samples):
        if self.playing:
            self.played = min(self.written, self.played + samples)

    def _check(self):
        if self.gone:
            raise NoSoundDevice("The loudspeaker was pulled out. Nothing is lost.")
