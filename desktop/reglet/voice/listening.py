"""Listening: the book read to the writer, word by word in step with the page.

Nothing in here waits, draws or knows the time: the window calls `tick` some fifty times a second,
gives the device, and marks the word that the answer names.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, replace

from reglet.errors import RegletError
from reglet.manuscript.book import Book
from reglet.manuscript.change import Change
from reglet.voice import reading_order
from reglet.voice.ahead import AHEAD, Ahead
from reglet.voice.coverage import HeardSentences
from reglet.voice.device import SoundDevice
from reglet.voice.flags import Said, Spot, spot
from reglet.voice.moment import END_OF_BOOK, SCENE_GONE, Moment, State
from reglet.voice.reading_order import Piece, Place
from reglet.voice.said_as import dictionary
from reglet.voice.sound import BYTES_A_SAMPLE, Spoken
from reglet.voice.speaking import FASTEST, SLOWEST, Speaker

_CUSHION = 2.0
"""Seconds of sound that must be ready before the first is heard, so that it does not break off.
Each time it does, twice as much is waited for: one long wait disturbs less than many.
"""


@dataclass(slots=True)
class _Playing:
    """A piece on the device: the samples it has there, counted since the device was started."""

    piece: Piece
    spoken: Spoken
    begins: int
    ends: int


class Listening:
    """The voice at work on one book. All methods are called on one thread, the window's."""

    def __init__(self, speaker: Speaker, device: SoundDevice, seconds_ahead: float = AHEAD) -> None:
        self._speaker = speaker
        self._device = device
        self._ahead = Ahead(self._speak, seconds_ahead)
        self._book = Book()
        self._said_as: dict[str, str] = {}
        self._pace = 1.0
        self._state = State.STOPPED
        self._place: Place | None = None
        self._stale = False
        self._behind = False
        self._on_device: deque[_Playing] = deque()
        self._rest = b""
        self._written = 0
        self._last: _Playing | None = None
        self._dry = False
        self._cushion, self._most = _CUSHION, seconds_ahead / 2
        self._past: deque[Said] = deque(maxlen=400)
        self._heard_sentences = HeardSentences()
        self._heard: list[tuple[str, str]] = []
        self._why = ""
        self.underruns = 0
        """How often the device had played all it was given while more was to come."""

    @property
    def state(self) -> State:
        """What the voice is doing."""
        return self._state

    @property
    def place(self) -> Place | None:
        """The start of the sentence being read, or to be read next; None before the first."""
        return self._place

    @property
    def pace(self) -> float:
        """The pace, as a part of the voice's own."""
        return self._pace

    def play(self, book: Book, place: Place) -> None:
        """Read `book` from the sentence that holds `place`. Raises UnknownThing, NoSoundDevice."""
        self._know(book)
        self._begin(reading_order.sentence_at(book, place), with_heading=place.position == 0)

    def pause(self) -> Place | None:
        """Fall silent; the word being heard, for the cursor. Does nothing when not playing."""
        if self._state is not State.PLAYING:
            return self._place
        word = self._now()
        self._device.pause()
        self._state = State.PAUSED
        return Place(word.scene, word.start) if word.scene else self._place

    def resume(self) -> None:
        """Go on where `pause` was; from the sentence's start if text or pace changed since.

        Raises NoSoundDevice, UnknownThing.
        """
        if self._state is not State.PAUSED or self._place is None:
            return
        if self._stale:
            self._begin(self._place)
        else:
            self._device.resume()
            self._state = State.PLAYING

    def back_a_sentence(self) -> None:
        """To the start of this sentence, or, within its first second, of the one before."""
        self._go(reading_order.sentence_before if self._early() else reading_order.sentence_at)

    def back_a_paragraph(self) -> None:
        """To the start of this paragraph, or of the one before where the first sentence is read."""
        self._go(reading_order.paragraph_before)

    def set_pace(self, pace: float) -> None:
        """Read at this pace, from `SLOWEST` to `FASTEST`, from the sentence's start on."""
        self._pace = min(max(pace, SLOWEST), FASTEST)
        self._again()

    def set_speaker(self, speaker: Speaker) -> None:
        """Read with this voice, from the sentence's start on."""
        self._speaker = speaker
        self._again()

    def book_changed(self, book: Book, scene_id: str = "", change: Change | None = None) -> None:
        """The book is now `book`; `change` is what was done to the text of that scene, if any.

        A sentence being read goes on if its own words stand as they did, and starts anew with the
        new words if not. Where its scene has gone, reading stops, and the next moment says so.
        """
        self._know(book)
        if change is not None:
            self._carry(scene_id, change)
        if self._place is None or self._state is State.STOPPED:
            return
        place = reading_order.still_in(book, self._place)
        if place is None:
            self._stop(SCENE_GONE)
        elif self._state is State.PAUSED:
            self._stale = True
        elif all(each.piece.stands_in(self._book) for each in self._on_device):
            # While the writer types on, nothing is begun anew before it is wanted.
            self._behind = True
        else:
            self._begin(place)

    def stop(self) -> None:
        """Fall silent, and let the device go. The place is kept."""
        self._stop("")

    def close(self) -> None:
        """Stop, and end the thread that speaks."""
        self._stop("")
        self._ahead.close()

    def flag(self) -> Spot | None:
        """The text said in the last three seconds, for `flags.flagged`; None before any word."""
        self._note_words()
        return spot(tuple(self._past), self._clock())

    def tick(self) -> Moment:
        """Give the device what it has room for; what is being heard now.

        Never raises: where device or voice fail, reading stops and the moment says why.
        """
        if self._state is State.PLAYING:
            try:
                self._note_words()
                self._drop_heard()
                self._fill()
                if not self._on_device and self._ahead.finished:
                    self._stop(END_OF_BOOK)
            except RegletError as error:
                self._stop(str(error))
        why, self._why = self._why, ""
        heard, self._heard = tuple(self._heard), []
        return replace(self._now(), heard=heard, sentence_for_writer=why)

    # The voice's side: what is spoken, and from where.

    def _speak(self, piece: Piece) -> Spoken:
        spoken = self._speaker.speak(piece.text, self._pace, self._said_as)
        return spoken.with_pause(piece.pause / self._pace)

    def _know(self, book: Book) -> None:
        self._book = book
        self._said_as = dictionary(book.style_sheet)

    def _begin(self, place: Place, with_heading: bool = False) -> None:
        start = Place(place.scene, 0) if with_heading else place
        self._device.start(self._speaker.rate)
        self._forget_sound()
        self._past.clear()
        self._written = 0
        self._dry = False
        self._place = place
        self._stale = self._behind = False
        headings = with_heading or start.position > 0
        self._ahead.begin(reading_order.pieces(self._book, start, headings=headings))
        self._state = State.PLAYING

    def _go(self, where: Callable[[Book, Place], Place]) -> None:
        if self._place is None or not self._book.has_scene(self._place.scene):
            return
        place = where(self._book, self._place)
        if self._state is State.PLAYING:
            self._begin(place)
        else:
            self._forget_sound()
            self._place, self._stale = place, True

    def _forget_sound(self) -> None:
        self._on_device.clear()
        self._last = None
        self._rest = b""

    def _again(self) -> None:
        if self._state is State.PLAYING and self._place is not None:
            self._begin(self._place)
        else:
            self._stale = True

    def _after(self, place: Place) -> reading_order.Pieces:
        """What is read behind the piece given to the device last, or else from `place` on."""
        if self._last is None:
            return reading_order.pieces(self._book, place)
        last = self._last.piece
        if last.heading:
            return reading_order.pieces(self._book, Place(last.scene, 0), headings=False)
        return reading_order.pieces(self._book, Place(last.scene, last.end))

    # The text's side: what stands where.

    def _carry(self, scene_id: str, change: Change) -> None:
        if self._place is not None:
            self._place = self._place.carried(scene_id, change)
        held = list(self._on_device)
        if self._last is not None and self._last not in held:
            held.append(self._last)
        for each in held:
            each.piece = each.piece.carried(scene_id, change)
        for at, said in enumerate(self._past):
            self._past[at] = said.carried(scene_id, change)

    # The device's side: what was given to it, and what of that was heard.

    def _fill(self) -> None:
        room = self._device.room()
        while room > 0:
            if not self._rest and not self._next():
                break
            piece = self._rest[: room * BYTES_A_SAMPLE]
            self._device.write(piece)
            self._rest = self._rest[len(piece) :]
            room -= len(piece) // BYTES_A_SAMPLE
        dry = room > 0 and not self._on_device and self._written > 0 and not self._ahead.finished
        if dry and not self._dry:
            self.underruns += 1
            self._cushion = min(2 * self._cushion, self._most)
        self._dry = dry

    def _next(self) -> bool:
        if self._behind and self._place is not None:
            self._behind = False
            self._ahead.begin(self._after(self._place))
        ready = self._ahead.all_spoken or self._ahead.waiting >= self._cushion
        if not ready and (self._dry or not self._written):
            return False
        taken = self._ahead.take()
        if taken is None:
            return False
        piece, spoken = taken
        if len(spoken):
            self._last = _Playing(piece, spoken, self._written, self._written + len(spoken))
            self._on_device.append(self._last)
            self._written += len(spoken)
            self._rest = spoken.samples
        return True

    def _drop_heard(self) -> None:
        heard = self._device.heard()
        while self._on_device and self._on_device[0].ends <= heard:
            self._count(self._on_device.popleft().piece)
        if self._on_device and not self._on_device[0].piece.heading:
            self._place = self._on_device[0].piece.place

    def _count(self, piece: Piece) -> None:
        """A sentence was heard to its end; with the last of its paragraph, that is heard too."""
        if piece.heading or not piece.stands_in(self._book):
            return
        whole = self._heard_sentences.heard(self._book.scene(piece.scene), piece)
        if whole is not None:
            self._heard.append((piece.scene, whole))

    def _note_words(self) -> None:
        """Remember the words begun since last time, for `flag`."""
        if self._state is State.STOPPED:
            return
        heard, rate = self._clock(), self._speaker.rate
        latest = self._past[-1].begins if self._past else -1.0
        for each in self._on_device:
            if each.piece.heading:
                continue
            for word in each.spoken.words:
                begins = (each.begins + word.begins) / rate
                if latest < begins <= heard:
                    ends = (each.begins + word.ends) / rate
                    start = each.piece.start + word.start
                    end = each.piece.start + word.end
                    self._past.append(Said(each.piece.scene, start, end, begins, ends))

    def _clock(self) -> float:
        try:
            return self._device.heard() / self._speaker.rate
        except RegletError:
            return self._written / self._speaker.rate

    def _early(self) -> bool:
        """Whether the sentence being heard began less than a second ago."""
        if not self._on_device or self._state is State.STOPPED:
            return True
        return self._clock() - self._on_device[0].begins / self._speaker.rate < 1.0

    def _now(self) -> Moment:
        if self._state is State.STOPPED or not self._on_device:
            return Moment(self._state, waiting=self._state is State.PLAYING)
        # The sentence at the front until it is counted as heard, though time goes on between.
        now = self._on_device[0]
        piece, heard = now.piece, min(round(self._clock() * self._speaker.rate), now.ends - 1)
        word = None if piece.heading else now.spoken.word_at(heard - now.begins)
        start, end = (word.start, word.end) if word else (0, 0)
        return Moment(
            self._state,
            piece.scene,
            piece.start + start,
            piece.start + end,
            (piece.start, piece.end),
        )

    def _stop(self, why: str) -> None:
        if self._state is not State.STOPPED:
            self._state = State.STOPPED
            self._why = why
            try:
                self._device.stop()
            except RegletError:
                self._why = why or self._why  # it is gone, which is as silent as it gets
            self._ahead.begin(iter(()))
            self._forget_sound()
