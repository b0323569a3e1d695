"""Count word forms over novels into the table of frequency.

    python count.py NOVELS OUT

NOVELS is a folder of ``.txt.xz`` files; OUT is an xz-compressed list of lines "form zipf", zipf
times ten, with N behind it where the form is nearly always written with a capital.
"""

from __future__ import annotations

import argparse
import lzma
import math
import re
from collections import Counter
from pathlib import Path

WORD = re.compile(r"[^\W\d_]+(?:['’-][^\W\d_]+)*")
LEAST, LEAST_HYPHENED, BOOKS, LONGEST = 5, 40, 3, 24


def main() -> None:
    """Count and store."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("novels", type=Path)
    parser.add_argument("out", type=Path)
    asked = parser.parse_args()
    small: Counter[str] = Counter()
    capital: Counter[str] = Counter()
    books: Counter[str] = Counter()
    for file in sorted(asked.novels.glob("*.txt.xz")):
        text = lzma.decompress(file.read_bytes()).decode("utf-8")
        text = text.replace("*", "").replace("’", "'")
        seen: set[str] = set()
        for form, count in Counter(WORD.findall(text)).items():
            plain = form.lower().removesuffix("'s")
            (capital if form[0].isupper() else small)[plain] += count
            seen.add(plain)
        books.update(seen)
    total = small.total() + capital.total()
    lines = []
    for form in sorted(small.keys() | capital.keys()):
        count = small[form] + capital[form]
        hyphens = form.count("-")
        least = LEAST_HYPHENED if hyphens else LEAST
        if count < least or books[form] < BOOKS or len(form) > LONGEST or hyphens > 1:
            continue
        name = "N" if capital[form] >= 0.9 * count else ""
        lines.append(f"{form} {round(10 * math.log10(count * 1e9 / total))}{name}\n")
    packed = lzma.compress("".join(lines).encode(), preset=9 | lzma.PRESET_EXTREME)
    asked.out.write_bytes(packed)


if __name__ == "__main__":
    main()
