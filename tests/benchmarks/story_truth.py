"""How well people named in fiction are found, measured on LitBank.

    python -m tests.benchmarks.story_truth TRUTH_PATH [--misses]

TRUTH_PATH is a folder with LitBank's `*.quotes.txt` (text) and `*.entities.ann` (entities; Bamman,
Popat and Shen 2019, CC BY 4.0). A name in the truth is a PER entity that is all capitalised once an
article and an adjective before it are left out, and is no mere title; a recurring one stands twice
or more. A name found counts as right if the truth has it as a person's name, in any form, and as
wrong if not.
"""

import re
import sys
from collections import Counter
from pathlib import Path

from reglet import resources
from reglet.language.prose import Prose
from reglet.language.speech import detect_marks
from reglet.story.cast import SceneNames, person_forms
from reglet.story.names import names_in

_PARTICLES = frozenset("de la le du van von der den del da of the".split())
_ADJECTIVES = frozenset("old young poor little dear dearest good great late".split())


def main() -> None:
    folder, titles = Path(sys.argv[1]), resources.words("story", "titles.txt")
    right = found_count = hit = truth_count = 0
    for annotated in sorted(folder.glob("*.entities.ann")):
        text = annotated.with_name(annotated.name.replace("entities.ann", "quotes.txt"))
        lines = [plain(line) for line in text.read_text("utf-8").splitlines()]
        truth = people(annotated.read_text("utf-8"))
        marks = detect_marks(lines)
        mentions = tuple(each for line in lines for each in names_in(Prose(line, marks)))
        counts = person_forms([SceneNames(annotated.name, mentions)])
        found = {form for form, count in counts.items() if count > 1}
        known = {word for name in truth for word in name.split()} - titles
        recurring = {name for name, count in truth.items() if count > 1}
        wrong = {form for form in found if not known & set(form.split())}
        missed = {name for name in recurring if name not in found}
        right += len(found) - len(wrong)
        found_count += len(found)
        hit += len(recurring) - len(missed)
        truth_count += len(recurring)
        if "--misses" in sys.argv and (wrong or missed):
            print(f"{annotated.name[:40]:<40} wrong {sorted(wrong)} missed {sorted(missed)}")
    print(f"names proposed {found_count}, of people {right}: precision {right / found_count:.3f}")
    print(f"recurring names {truth_count}, proposed {hit}: recall {hit / truth_count:.3f}")


def people(annotations: str) -> Counter[str]:
    """The proper names of people, without titles' points, and how often each stands."""
    listed = resources.sections("story", "not_people.txt")
    roles = resources.words("story", "titles.txt").union(
        *(listed[each] for each in ("offices", "peoples", "sacred"))
    )
    counts: Counter[str] = Counter()
    for line in annotations.splitlines():
        columns = line.split("\t")
        if len(columns) < 3 or not columns[1].startswith("PER"):
            continue
        words = plain(columns[2]).replace(".", "").split()
        while words and words[0].lower() in _ADJECTIVES:
            words = words[1:]
        if not words or not all(w[:1].isupper() or w in _PARTICLES for w in words):
            continue
        if words[0] in ("The", "the", "A", "An", "His", "Her", "My", "Your", "I", "You"):
            continue
        if any(len(w) > 1 and w.isupper() for w in words) or set(words) <= roles:
            continue
        counts[" ".join(words)] += 1
    return counts


def plain(line: str) -> str:
    """LitBank's spaced tokens as ordinary text."""
    line = re.sub(r" (?=[,.;:!?)]|['’](?:s|d|ll|m|re|ve)\b|n['’]t\b|['’] )", "", line)
    line = re.sub(r"(?<=[(])\s", "", line)
    return re.sub(r"([“‘`]) ", r"\1", line).replace("``", "“").replace("''", "”").strip()


if __name__ == "__main__":
    main()
