import numpy as np
import pytest
from reglet.voice.model import MARGIN, Model
from reglet.voice.voices import built_in


@pytest.fixture(scope="module")
def model():
    voice = built_in()
    if voice is None:
        pytest.skip("the built-in voice is not installed")
    return Model(voice.model.read_bytes(), window=40)


@pytest.mark.parametrize("frames", [1, 39, 40 + MARGIN, 41 + MARGIN, 80, 137])
def test_windows_sound_as_the_whole_does(model, frames):
    plan = np.random.default_rng(frames).standard_normal((1, 192, frames)).astype(np.float32)
    windows = model._sound(plan).reshape(-1)
    (whole,) = model._sounding.run(None, {model._plan_name: plan})
    assert windows.shape == whole.reshape(-1).shape
    assert np.abs(windows - whole.reshape(-1)).max() < 1e-4


def test_every_phoneme_has_its_frames_and_they_make_up_the_sound(model):
    made = model.run([1, 0, 20, 0, 14, 0, 30, 0, 2], (0.667, 1.0, 0.8))
    assert made.frames.shape == (9,)
    assert made.frames.sum() * 256 == made.sound.size
