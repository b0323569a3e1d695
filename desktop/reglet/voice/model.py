"""A Piper voice's model at work: phonemes in, sound and the frames of each phoneme out."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from reglet.voice.model_parts import parts

if TYPE_CHECKING:
    import numpy as np

    Floats = np.ndarray[Any, np.dtype[np.float32]]
    Whole = np.ndarray[Any, np.dtype[np.int64]]

WINDOW = 192
"""Frames made to sound at once: some two seconds. What bounds the memory."""
MARGIN = 16
"""Frames to each side that a frame's sound still hears. The network reaches some 13: half the
width of each convolution times its dilation, summed along the longest way through the two sorts of
voices there are (HiFi-GAN, Kong, Kim and Bae 2020, appendix A), at each layer's frames a sample.
"""


@dataclass(frozen=True, slots=True)
class Sounded:
    """The sound, from -1.0 to 1.0, and how many frames each phoneme lasts, if the model says so."""

    sound: Floats
    frames: Whole | None


class Model:
    """A voice's model, loaded. May be run from several threads at a time.

    Raises what the library raises: its own classes, and ValueError, where the bytes are no model.
    """

    def __init__(self, model: bytes, threads: int = 1, window: int = WINDOW) -> None:
        made = parts(model)
        self._tells_frames = made.tells_frames
        self._window = window
        self._planning = _session(made.planning, threads)
        self._sounding = None if made.sounding is None else _session(made.sounding, threads)
        if self._sounding is not None:
            (self._plan_name,) = (each.name for each in self._sounding.get_inputs())

    def run(
        self, phonemes: list[int], scales: tuple[float, float, float], speaker: int | None = None
    ) -> Sounded:
        """Phonemes by the model's numbers; `scales` are its noise, length and noise of lengths;
        `speaker` is one of several that a model may know.
        """
        import numpy as np

        told: dict[str, Any] = {
            "input": np.array([phonemes], np.int64),
            "input_lengths": np.array([len(phonemes)], np.int64),
            "scales": np.array(scales, np.float32),
        }
        if speaker is not None:
            told["sid"] = np.array([speaker], np.int64)
        given = self._planning.run(None, told)
        frames = None
        if self._tells_frames and given[1].size == len(phonemes):
            frames = given[1].reshape(-1).astype(np.int64)
        sound = given[0] if self._sounding is None else self._sound(given[0])
        return Sounded(sound.reshape(-1), frames)

    def _sound(self, plan: Floats) -> Floats:
        """A plan made to sound, a window at a time; the windows are as long as one another."""
        import numpy as np

        assert self._sounding is not None
        length = plan.shape[2]
        if length <= self._window + MARGIN:
            (whole,) = self._sounding.run(None, {self._plan_name: plan})
            return np.asarray(whole)
        count = -(-length // self._window)
        ends = [length * number // count for number in range(count + 1)]
        heard: list[Floats] = []
        for start, end in pairwise(ends):
            left, right = max(0, start - MARGIN), min(length, end + MARGIN)
            piece = np.ascontiguousarray(plan[:, :, left:right])
            (sound,) = self._sounding.run(None, {self._plan_name: piece})
            frame = sound.shape[-1] // (right - left)
            heard.append(sound.reshape(-1)[(start - left) * frame : (end - left) * frame])
        return np.concatenate(heard)


def _session(model: bytes, threads: int) -> Any:
    from onnxruntime import InferenceSession, SessionOptions

    options = SessionOptions()
    options.intra_op_num_threads = threads
    options.inter_op_num_threads = 1
    # A thread that waits for the other would keep a core busy, and the typing needs it.
    options.add_session_config_entry("session.intra_op.allow_spinning", "0")
    # Plans of memory are kept for each length of sentence and pay only where it recurs.
    options.enable_mem_pattern = False
    options.log_severity_level = 4
    return InferenceSession(model, options, providers=["CPUExecutionProvider"])
