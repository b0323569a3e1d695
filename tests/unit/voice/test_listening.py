import threading
import time

import pytest
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.change import Change
from reglet.manuscript.editing import edit
from reglet.manuscript.heard import paragraph_key
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.voice.coverage import of_scene, with_hearing
from reglet.voice.device import NoSoundDevice
from reglet.voice.flags import Spot
from reglet.voice.listening import Listening
from reglet.voice.moment import State
from reglet.voice.reading_order import Place
from reglet.voice.voices import VoiceMissing

from tests.unit.voice.voice_in_test import Deaf, Whisper

TEXT = "She came in. He was was late.\nNobody said so."
MORE = "The end came."


def book_of(*texts):
    scenes = tuple(Scene(f"s{n}", "", Passage.plain(text)) for n, text in enumerate(texts))
    return Book(parts=(Part("p", "", (Chapter("c", "", scenes),)),))


@pytest.fixture
def heard_by():
    made = []

    def make(buffer=200):
        speaker, device = Whisper(), Deaf(buffer)
        listening = Listening(speaker, device)
        made.append(listening)
        return listening, speaker, device

    yield make
    for listening in made:
        listening.close()


def ticked(listening, device, samples=0, steps=10):
    """Time passes in small steps; the last moment, once the voice had time to be ready."""
    moment = None
    heard = []
    why = ""
    while samples > 0 or moment is None:
        step = min(steps, samples)
        for _ in range(200):
            moment = listening.tick()
            heard += moment.heard
            why = moment.sentence_for_writer or why
            if device.written - device.played >= step or moment.state is not State.PLAYING:
                break
            time.sleep(0.002)
        device.play(step)
        samples -= steps
    moment = listening.tick()
    return moment, heard + list(moment.heard), moment.sentence_for_writer or why


def word(book, moment):
    return book.scene(moment.scene).passage.text[moment.start : moment.end]


def test_the_word_that_is_heard_is_the_word_that_is_marked(heard_by):
    listening, _, device = heard_by()
    book = book_of(TEXT, MORE)
    listening.play(book, Place("s0", 0))
    seen = []
    for step in [50] + 19 * [100]:
        moment, _, _ = ticked(listening, device, step)
        if moment.scene and moment.end > moment.start:
            seen.append(word(book, moment))
    # a pause of 300 ms stands between the sentences, 550 ms between the paragraphs
    assert seen == "She came in He was was late Nobody said so".split()
    assert moment.sentence == (30, 45)


def test_reading_to_the_end_stops_and_counts_every_paragraph(heard_by):
    listening, speaker, device = heard_by()
    book = book_of(TEXT, MORE)
    listening.play(book, Place("s0", 0))
    moment, heard, why = ticked(listening, device, 6000, 50)
    assert (moment.state, why) == (State.STOPPED, "That was the end of the book.")
    paragraphs = [*TEXT.split("\n"), MORE]
    assert [key for _, key in heard] == [paragraph_key(text) for text in paragraphs]
    for scene, key in heard:
        book = with_hearing(book, scene, key)
    assert [of_scene(s).hearings for s in book.scenes] == [1.0, 1.0]
    assert speaker.spoken == ["She came in.", "He was was late.", "Nobody said so.", MORE]
    assert listening.underruns == 0


@pytest.mark.parametrize("step", range(5, 60, 6))
def test_a_paragraph_is_counted_before_the_next_is_told_though_time_goes_on(step):
    class Running(Deaf):
        """Its time goes on whenever it is asked."""

        def heard(self):
            self.play(step)
            return super().heard()

    listening, counted = Listening(Whisper(), Running()), []
    listening.play(book_of(TEXT, MORE), Place("s0", 0))
    told = set()
    while listening.state is State.PLAYING:
        moment = listening.tick()
        counted += [key for _, key in moment.heard]
        if moment.scene:
            told.add((moment.scene, moment.sentence))
        if moment.scene == "s1" or moment.sentence[0] >= 30:
            assert paragraph_key(TEXT.split("\n")[0]) in counted
        time.sleep(0.001)
    listening.close()
    assert len(told) == 4


def test_a_paragraph_begun_in_the_middle_is_not_heard(heard_by):
    listening, _, device = heard_by()
    listening.play(book_of(TEXT), Place("s0", 15))
    _, heard, _ = ticked(listening, device, 3000, 50)
    assert [key for _, key in heard] == [paragraph_key("Nobody said so.")]


def test_pause_gives_the_word_and_resume_goes_on_from_there(heard_by):
    listening, _, device = heard_by()
    book = book_of(TEXT)
    listening.play(book, Place("s0", 0))
    ticked(listening, device, 110)
    assert listening.pause() == Place("s0", 4)
    device.play(500)
    listening.resume()
    assert word(book, listening.tick()) == "came"


def test_back_a_sentence_and_a_paragraph(heard_by):
    listening, _, device = heard_by()
    listening.play(book_of(TEXT), Place("s0", 13))
    ticked(listening, device, 100)
    listening.back_a_sentence()  # at once: to the one before
    assert listening.place == Place("s0", 0)
    listening.play(book_of(TEXT), Place("s0", 30))
    listening.back_a_paragraph()
    assert listening.place == Place("s0", 0)
    listening.pause()
    listening.back_a_sentence()
    assert listening.state is State.PAUSED


def test_mended_text_is_read_anew_from_the_sentences_start(heard_by):
    listening, speaker, device = heard_by()
    book = book_of(TEXT)
    listening.play(book, Place("s0", 13))
    ticked(listening, device, 250)
    listening.pause()
    change = Change.at(20, 24, 0)
    mended = edit(book, "s0", 20, 24, Passage.plain(""))
    assert mended.scene("s0").passage.text.startswith("She came in. He was late.")
    listening.book_changed(mended, "s0", change)
    listening.resume()
    moment, _, _ = ticked(listening, device, 50)
    assert word(mended, moment) == "He"
    assert speaker.spoken.count("He was late.") == 1


def test_an_edit_before_the_voice_moves_the_mark_along(heard_by):
    listening, speaker, device = heard_by()
    book = book_of(TEXT)
    listening.play(book, Place("s0", 13))
    ticked(listening, device, 150)
    longer = edit(book, "s0", 0, 0, Passage.plain("Oh. "))
    listening.book_changed(longer, "s0", Change.at(0, 0, 4))
    moment, _, _ = ticked(listening, device, 50)
    assert word(longer, moment) == "was"
    assert moment.start == 24
    _, _, why = ticked(listening, device, 3000, 50)
    assert why == "That was the end of the book."
    assert speaker.spoken.count("He was was late.") == 1


def test_words_changed_under_the_voice_are_read_anew(heard_by):
    listening, _, device = heard_by()
    book = book_of(TEXT)
    listening.play(book, Place("s0", 13))
    ticked(listening, device, 150)
    changed = edit(book, "s0", 24, 28, Passage.plain("early"))
    listening.book_changed(changed, "s0", Change.at(24, 28, 5))
    assert device.written == 0
    moment, _, _ = ticked(listening, device, 50)
    assert word(changed, moment) == "He"


def test_a_scene_that_goes_ends_in_a_sentence(heard_by):
    listening, _, device = heard_by()
    book = book_of(TEXT, MORE)
    listening.play(book, Place("s0", 0))
    ticked(listening, device, 50)
    listening.book_changed(Book(parts=(Part("p", "", (Chapter("c", "", (Scene("s1"),)),)),)))
    moment = listening.tick()
    assert moment.state is State.STOPPED
    assert "not in the book any more" in moment.sentence_for_writer


def test_no_device_a_device_pulled_out_and_a_voice_that_fails(heard_by):
    listening, speaker, device = heard_by()
    device.gone = True
    with pytest.raises(NoSoundDevice):
        listening.play(book_of(TEXT), Place("s0", 0))
    device.gone = False
    listening.play(book_of(TEXT), Place("s0", 0))
    ticked(listening, device, 50)
    device.gone = True
    moment = listening.tick()
    assert (moment.state, "pulled out" in moment.sentence_for_writer) == (State.STOPPED, True)
    device.gone = False
    speaker.fails = VoiceMissing("The voice is gone. Nothing is lost.")
    listening.play(book_of(MORE), Place("s0", 0))
    moment, _, why = ticked(listening, device, 100)
    assert moment.state is State.STOPPED
    assert why == "The voice is gone. Nothing is lost."


def test_a_flag_takes_in_the_last_three_seconds(heard_by):
    listening, _, device = heard_by()
    assert listening.flag() is None
    text = " ".join(f"w{n}" for n in range(100)) + "."
    listening.play(book_of(text), Place("s0", 0))
    ticked(listening, device, 5050, 50)
    flagged = listening.flag()
    assert flagged == Spot("s0", text.index("w20"), text.index("w51") - 1)


def test_pace_changes_from_the_sentences_start(heard_by):
    listening, _, device = heard_by()
    book = book_of(TEXT)
    listening.play(book, Place("s0", 0))
    ticked(listening, device, 150)
    listening.set_pace(2.0)
    moment, _, _ = ticked(listening, device, 60)
    assert word(book, moment) == "came"
    listening.set_pace(9)
    assert listening.pace == 2.0


def test_while_the_writer_types_nothing_is_spoken_anew_and_then_the_new_words_are(heard_by):
    listening, speaker, device = heard_by()
    book = book_of(TEXT, MORE)
    listening.play(book, Place("s0", 0))
    ticked(listening, device, 150)
    while len(speaker.spoken) < 4:
        time.sleep(0.002)
    for at in range(30):
        end = len(MORE) + at
        book = edit(book, "s1", end, end, Passage.plain("x"))
        listening.book_changed(book, "s1", Change.at(end, end, 1))
        listening.tick()
    time.sleep(0.05)
    assert len(speaker.spoken) == 4
    _, heard, why = ticked(listening, device, 6000, 50)
    assert why == "That was the end of the book."
    assert speaker.spoken[-1] == MORE + "x" * 30
    assert heard[-1] == ("s1", paragraph_key(MORE + "x" * 30))
    assert MORE not in speaker.spoken[4:]


class Slow(Whisper):
    """Speaks as many sentences as it is let."""

    def __init__(self):
        super().__init__()
        self.let = threading.Semaphore(0)

    def speak(self, text, pace=1.0, said_as=None):
        self.let.acquire()
        return super().speak(text, pace, said_as)


def test_after_running_dry_twice_as_much_is_waited_for():
    speaker, device = Slow(), Deaf()
    listening = Listening(speaker, device)

    def speaks(count):
        """The voice gets so many sentences further, each of 0.7 seconds with its pause."""
        wanted = len(speaker.spoken) + count
        speaker.let.release(count)
        while len(speaker.spoken) < wanted:
            time.sleep(0.001)
        time.sleep(0.02)

    listening.play(book_of("One two three four. " * 30), Place("s0", 0))
    speaks(3)
    for _ in range(60):
        assert listening.tick().state is State.PLAYING
        device.play(50)
    assert (listening.underruns, device.written) == (1, 2100)
    speaks(3)
    assert listening.tick().waiting
    assert device.written == 2100
    speaks(3)
    listening.tick()
    assert device.written > 2100
    speaker.let.release(100)
    listening.close()


@pytest.mark.parametrize(
    ("position", "wanted"),
    [
        (0, ["Slack Water", "She came in.", "He was was late.", "Nobody said so."]),
        (3, ["She came in.", "He was was late.", "Nobody said so."]),
        (13, ["He was was late.", "Nobody said so."]),
    ],
)
def test_a_heading_is_read_where_its_scene_is_read_from_the_top(heard_by, position, wanted):
    listening, speaker, device = heard_by()
    first = Chapter("c", "Slack Water", (Scene("s0", "", Passage.plain(TEXT)),))
    second = Chapter("d", "Neap", (Scene("s1", "", Passage.plain(MORE)),))
    listening.play(Book(parts=(Part("p", "", (first, second)),)), Place("s0", position))
    ticked(listening, device, 9000, 50)
    assert speaker.spoken == [*wanted, "Neap", MORE]
