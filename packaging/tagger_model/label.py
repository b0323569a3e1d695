"""Draw paragraphs from novels and let a parser name the parts of speech: what the tagger learns.

    python label.py NOVELS PIPELINE OUT [--tokens N] [--seed N]

NOVELS is a folder of ``.txt.xz`` files, PIPELINE a spaCy pipeline's name or folder. OUT is a
pickle, xz-compressed: a list of paragraphs, each a list of (form, tag, relation, head), the head
as a distance in tokens. It holds text and is never committed.
"""

from __future__ import annotations

import argparse
import lzma
import pickle
import random
from collections.abc import Iterator
from pathlib import Path

import spacy  # type: ignore[import-not-found]
from reglet.language.words import Token, tokens
from spacy.tokens import Doc  # type: ignore[import-not-found]

STRAIGHT = str.maketrans("“”‘’ʼ", "\"\"'''")
RUN = 12  # paragraphs in a row, so that speech and narration come as they stand
LONGEST = 500  # tokens: what is longer is a list or a scanning fault


def paragraphs(folder: Path, wanted: int, seed: int) -> list[list[Token]]:
    """Runs of paragraphs, about as many tokens from each novel."""
    chance = random.Random(seed)
    files = sorted(folder.glob("*.txt.xz"))
    drawn: list[list[Token]] = []
    for file in files:
        text = lzma.decompress(file.read_bytes()).decode("utf-8")
        lines = [line for line in text.split("\n") if line and line[0] != "#" and line != "***"]
        count = 0
        while lines and count < wanted / len(files):
            start = chance.randrange(max(1, len(lines) - RUN))
            for line in lines[start : start + RUN]:
                found = list(tokens(line.replace("*", "")))
                if 0 < len(found) < LONGEST:
                    drawn.append(found)
                count += len(found) + 1
    chance.shuffle(drawn)
    return drawn


def main() -> None:
    """Label and store."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("novels", type=Path)
    parser.add_argument("pipeline")
    parser.add_argument("out", type=Path)
    parser.add_argument("--tokens", type=int, default=4_000_000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    pipeline = spacy.load(asked.pipeline, exclude=["ner", "lemmatizer", "senter"])

    def documents() -> Iterator[tuple[Doc, list[Token]]]:
        for found in paragraphs(asked.novels, asked.tokens, asked.seed):
            spaces = [a.end < b.start for a, b in zip(found, found[1:], strict=False)]
            forms = [token.text.translate(STRAIGHT) for token in found]
            yield Doc(pipeline.vocab, words=forms, spaces=[*spaces, False]), found

    labelled = [
        [(t.text, w.tag_, w.dep_, w.head.i - w.i) for t, w in zip(found, parsed, strict=True)]
        for parsed, found in pipeline.pipe(documents(), as_tuples=True, batch_size=256)
    ]
    with lzma.open(asked.out, "wb", preset=1) as out:
        pickle.dump(labelled, out)


if __name__ == "__main__":
    main()
