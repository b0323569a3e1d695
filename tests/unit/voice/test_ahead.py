import time

from reglet.voice.ahead import Ahead
from reglet.voice.kept_sound import KeepingSpeaker, KeptSound
from reglet.voice.reading_order import Piece
from reglet.voice.sound import Spoken, SpokenWord

from tests.unit.voice.voice_in_test import Whisper


def pieces(count):
    return iter([Piece("s", n, n + 1, str(n), 0.0) for n in range(count)])


def second_of(piece):
    return Spoken(bytes(2000), 1000)


def taken(ahead, count):
    found = []
    for _ in range(2000):
        got = ahead.take()
        if got is not None:
            found.append(got[0].text)
        if len(found) == count or ahead.finished:
            return found
        time.sleep(0.001)
    return found


def test_no_more_waits_than_is_bounded():
    made = []

    def speak(piece):
        made.append(piece)
        return second_of(piece)

    ahead = Ahead(speak, seconds=3.0)
    ahead.begin(pieces(50))
    time.sleep(0.1)
    assert len(made) == 3
    assert ahead.waiting == 3.0
    assert taken(ahead, 50) == [str(n) for n in range(50)]
    assert ahead.finished
    ahead.close()


def test_beginning_anew_drops_what_waits():
    ahead = Ahead(second_of, seconds=3.0)
    ahead.begin(pieces(50))
    assert taken(ahead, 2) == ["0", "1"]
    ahead.begin(iter([Piece("s", 0, 1, "new", 0.0)]))
    assert taken(ahead, 5) == ["new"]
    ahead.close()
    ahead.close()


def test_kept_sound_is_the_same_and_bounded(tmp_path):
    kept = KeptSound(tmp_path / "voice", bound=10_000)
    spoken = Spoken(b"\1\2" * 100, 22_050, (SpokenWord(0, 3, 5, 50),), exact=False)
    assert kept.get("a") is None
    kept.put("a", spoken)
    assert kept.get("a") == spoken
    for number in range(100):
        kept.put(f"k{number}", spoken)
    assert sum(each.stat().st_size for each in (tmp_path / "voice").iterdir()) <= 10_000
    assert kept.get("k99") == spoken


def test_a_damaged_or_missing_folder_is_no_matter(tmp_path):
    kept = KeptSound(tmp_path)
    kept.put("a", Spoken(b"\1\2", 1000))
    (file,) = tmp_path.iterdir()
    file.write_bytes(file.read_bytes()[:-1])
    assert kept.get("a") is None
    (tmp_path / "file").write_text("")
    nowhere = KeptSound(tmp_path / "file" / "below")
    nowhere.put("a", Spoken(b"", 1000))
    assert nowhere.get("a") is None


def test_a_sentence_is_spoken_once_for_each_way_to_say_it(tmp_path):
    whisper = Whisper()
    speaker = KeepingSpeaker(whisper, KeptSound(tmp_path))
    first = speaker.speak("She came.", 1.0, {"isaura": "eye"})
    assert speaker.speak("She came.", 1.0, {}) == first  # a name that is not there matters not
    assert len(whisper.spoken) == 1
    speaker.speak("She came.", 1.5)
    speaker.speak("Isaura came.", 1.0, {"isaura": "eye"})
    speaker.speak("Isaura came.", 1.0, {"isaura": "is"})
    assert len(whisper.spoken) == 4
