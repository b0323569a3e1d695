"""Listening by a voice of the system's: it makes its own sound, and tells each word as it says it.

Where the system's engine tells no words, the whole sentence is marked.
"""

from __future__ import annotations

import math
import time
from collections import deque
from collections.abc import Callable
from dataclasses import replace

from reglet.manuscript.book import Book
from reglet.manuscript.change import Change
from reglet.voice import reading_order
from reglet.voice.coverage import HeardSentences
from reglet.voice.flags import Said, Spot, spot
from reglet.voice.moment import END_OF_BOOK, SCENE_GONE, Moment, State
from reglet.voice.reading_order import Piece, Pieces, Place
from reglet.voice.said import Unit, units
from reglet.voice.said_as import dictionary
from reglet.voice.speaking import FASTEST, SLOWEST
from reglet.window.page.positions import to_code_points
from reglet.window.system_voice_process import Begun, Done, Failed, Word
from reglet.window.system_voices import SystemVoices

_EARLY = 1.0
"""Seconds into a sentence within which going back a sentence means the one before."""
_BROKE_DOWN = (
    "The system’s voice could not speak. Nothing is lost; choose another voice, or see that the "
    "system’s speech works."
)


class SystemListening:
    """As `Listening`, with a voice of the system's. All methods are called on one thread."""

    underruns = 0

    def __init__(self, voices: SystemVoices, voice_id: str) -> None:
        self._voices, self._voice_id = voices, voice_id
        self._book = Book()
        self._pace = 1.0
        self._state = State.STOPPED
        self._place: Place | None = None
        self._pieces: Pieces = iter(())
        self._piece: Piece | None = None
        self._units: tuple[Unit, ...] = ()
        self._said = ""
        self._number = 0
        self._begun = 0.0
        self._go_on_at = 0.0
        self._word: tuple[int, int] | None = None
        self._past: deque[Said] = deque(maxlen=400)
        self._heard_sentences = HeardSentences()
        self._heard: list[tuple[str, str]] = []
        self._why = ""

    @property
    def state(self) -> State:
        """See `Listening`."""
        return self._state

    @property
    def place(self) -> Place | None:
        """See `Listening`."""
        return self._place

    def set_voice(self, voice_id: str) -> None:
        """Read with this voice, from the sentence's start on."""
        self._voice_id = voice_id
        self._again()

    def play(self, book: Book, place: Place) -> None:
        """See `Listening`."""
        self._book = book
        found = reading_order.sentence_at(book, place)
        if place.position == 0:
            self._begin(Place(found.scene, 0), with_heading=True)
        else:
            self._begin(found)

    def pause(self) -> Place | None:
        """See `Listening`; reading goes on from the sentence's start."""
        if self._state is State.PLAYING:
            self._voices.hush()
            self._number = 0
            self._state = State.PAUSED
        return self._place

    def resume(self) -> None:
        """See `Listening`."""
        if self._state is State.PAUSED and self._place is not None:
            self._begin(self._place)

    def back_a_sentence(self) -> None:
        """See `Listening`."""
        early = time.perf_counter() - self._begun < _EARLY or self._state is not State.PLAYING
        self._go(reading_order.sentence_before if early else reading_order.sentence_at)

    def back_a_paragraph(self) -> None:
        """See `Listening`."""
        self._go(reading_order.paragraph_before)

    def set_pace(self, pace: float) -> None:
        """See `Listening`."""
        self._pace = min(max(pace, SLOWEST), FASTEST)
        self._again()

    def book_changed(self, book: Book, scene_id: str = "", change: Change | None = None) -> None:
        """See `Listening`."""
        self._book = book
        if change is not None:
            self._carry(scene_id, change)
        if self._place is None or self._state is State.STOPPED:
            return
        place = reading_order.still_in(book, self._place)
        if place is None:
            self._stop(SCENE_GONE)
        elif self._state is State.PLAYING:
            piece = self._piece
            if piece is None or not piece.stands_in(book):
                self._begin(place)
            elif not piece.heading:
                self._pieces = reading_order.pieces(book, Place(piece.scene, piece.end))

    def stop(self) -> None:
        """See `Listening`."""
        self._stop("")

    def close(self) -> None:
        """See `Listening`."""
        self._stop("")

    def flag(self) -> Spot | None:
        """See `Listening`."""
        return spot(tuple(self._past), time.perf_counter())

    def tick(self) -> Moment:
        """See `Listening`."""
        if self._state is State.PLAYING:
            for report in self._voices.reports(self._number) if self._number else ():
                if isinstance(report, Word):
                    self._begin_word(report)
                elif isinstance(report, Begun) and not report.by_words:
                    self._begin_whole(report)
                elif isinstance(report, Done):
                    self._end_piece()
                elif isinstance(report, Failed):
                    self._stop(_BROKE_DOWN)
            if self._state is State.PLAYING and not self._number:
                self._next()
        why, self._why = self._why, ""
        heard, self._heard = tuple(self._heard), []
        return replace(self._now(), heard=heard, sentence_for_writer=why)

    # What is said

    def _begin(self, place: Place, with_heading: bool = False) -> None:
        self._voices.hush()
        self._number, self._piece, self._word, self._go_on_at = 0, None, None, 0.0
        self._past.clear()
        self._place = place
        headings = with_heading or place.position > 0
        self._pieces = reading_order.pieces(self._book, place, headings=headings)
        self._state = State.PLAYING

    def _next(self) -> None:
        if time.perf_counter() < self._go_on_at:
            return
        piece = next(self._pieces, None)
        if piece is None:
            self._stop(END_OF_BOOK)
            return
        said_as = dictionary(self._book.style_sheet)
        self._piece, self._word = piece, None
        self._units = units(piece.text, said_as)
        self._said = " ".join(unit.said + unit.mark for unit in self._units)
        self._begun = time.perf_counter()
        if not piece.heading:
            self._place = piece.place
        # Windows' engine takes 1 for three times its own rate and -1 for a third (from memory);
        # others are near enough.
        rate = max(-1.0, min(1.0, math.log(self._pace, 3)))
        self._number = self._voices.say(self._voice_id, self._said, rate)

    def _begin_word(self, word: Word) -> None:
        piece = self._piece
        if piece is None or piece.heading:
            return
        at, reached = to_code_points(self._said, word.start), 0
        for unit in self._units:
            reached += len(unit.said) + len(unit.mark) + 1
            if at < reached:
                span = (piece.start + unit.start, piece.start + unit.end)
                if span != self._word:
                    self._word = span
                    self._past.append(Said(piece.scene, *span, word.at, math.inf))
                    self._end_word_before(word.at)
                return

    def _begin_whole(self, begun: Begun) -> None:
        piece = self._piece
        if piece is not None and not piece.heading:
            self._word = (piece.start, piece.end)
            self._past.append(Said(piece.scene, *self._word, begun.at, math.inf))

    def _end_word_before(self, at: float) -> None:
        if len(self._past) > 1:
            self._past[-2] = replace(self._past[-2], ends=min(at, self._past[-2].ends))

    def _end_piece(self) -> None:
        piece, self._number, self._word = self._piece, 0, None
        if piece is None:
            return
        now = time.perf_counter()
        self._go_on_at = now + piece.pause / self._pace
        if self._past:
            self._past[-1] = replace(self._past[-1], ends=now)
        if not piece.heading and piece.stands_in(self._book):
            whole = self._heard_sentences.heard(self._book.scene(piece.scene), piece)
            if whole is not None:
                self._heard.append((piece.scene, whole))

    def _now(self) -> Moment:
        piece = self._piece
        if self._state is State.STOPPED or piece is None:
            return Moment(self._state, waiting=self._state is State.PLAYING)
        sentence = (piece.start, piece.end)
        start, end = self._word or (piece.start, piece.start)
        return Moment(self._state, piece.scene, start, end, sentence)

    # Where it is said

    def _go(self, where: Callable[[Book, Place], Place]) -> None:
        if self._place is None or not self._book.has_scene(self._place.scene):
            return
        place = where(self._book, self._place)
        if self._state is State.PLAYING:
            self._begin(place)
        else:
            self._place = place

    def _again(self) -> None:
        if self._state is State.PLAYING and self._place is not None:
            self._begin(self._place)

    def _carry(self, scene_id: str, change: Change) -> None:
        if self._place is not None:
            self._place = self._place.carried(scene_id, change)
        if self._piece is not None:
            before, self._piece = self._piece.start, self._piece.carried(scene_id, change)
            if self._word is not None:
                shift = self._piece.start - before
                self._word = (self._word[0] + shift, self._word[1] + shift)
        for at, said in enumerate(self._past):
            self._past[at] = said.carried(scene_id, change)

    def _stop(self, why: str) -> None:
        if self._state is not State.STOPPED:
            self._state, self._why = State.STOPPED, why
            self._number, self._piece = 0, None
            self._pieces = iter(())
            self._voices.hush()
