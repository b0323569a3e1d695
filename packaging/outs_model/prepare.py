"""From a folder of plain texts to packed numbers and the lexicon.

The texts: UTF-8, plain or xz-compressed, one paragraph a line; lines that begin with `# ` are
headings and `***` a scene break, both left out.
"""

from __future__ import annotations

import lzma
import multiprocessing
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
from reglet.outs.levelling import words
from reglet.outs.lexicon import FIXED_SEPARATORS, LISTED_FROM, Lexicon

LISTED = 30_000
SEPARATORS = 128
PROPOSED = 320
HERE = Path(__file__).parent

# Closed classes of English: what a writer leaves out most. From any grammar; drawn up for this.
FUNCTION_WORDS = frozenset(
    """a an the this that these those my your his her its our their some any no every each both all
    i you he she it we they me him us them who whom whose which what myself himself herself itself
    and or but nor so yet if than then as because while when where though although until unless
    of in to for with on at by from up about into over after under between through before against
    out off down around near behind upon without within along among toward towards since like
    am is are was were be been being have has had having do does did will would shall should can
    could may might must not never just only even still also too very more most such there here
    now how why again ever once much many other own same one it's don't didn't i'm that's couldn't
    wouldn't i'd i'll i've he'd he's she'd wasn't can't won't""".split()
)

# American spelling by rule from British: (British ending or part, American). Each pair counts only
# if both forms are in the texts and the rule is not one of the words it would spoil.
_RESPELLING = (
    (r"our(s|ed|ing|able|ite|ites|less|ful|hood|er|ers|ly|ably|ful|fully|)$", r"or\1"),
    (r"([aeiou]l)l(ed|ing|er|ers|ous)$", r"\1\2"),
    (r"is(e|ed|es|ing|er|ers|ation|ations|able)$", r"iz\1"),
    (r"ys(e|ed|es|ing)$", r"yz\1"),
    (r"([bt])re(s|d|)$", r"\1er\2"),
    (r"ogue(s|)$", r"og\1"),
    (r"ence(s|less|)$", r"ense\1"),
    (r"^grey", "gray"),
    (r"plough", "plow"),
    (r"sceptic", "skeptic"),
    (r"mould", "mold"),
    (r"^moustache", "mustache"),
    (r"^pyjama", "pajama"),
    (r"^jewell(er|ery|ed)", r"jewel\1"),
    (r"^aluminium$", "aluminum"),
    (r"^waggon", "wagon"),
    (r"^connexion", "connection"),
    (r"^shew", "show"),
    (r"([^e])ae(s|d|o|v|l)", r"\1e\2"),
    (r"^cheque", "check"),
    (r"skilful", "skillful"),
    (r"wilful", "willful"),
    (r"fulfil(s|ment|)$", r"fulfill\1"),
    (r"judgement", "judgment"),
    (r"^tyre", "tire"),
    (r"^kerb", "curb"),
)
_NOT_RESPELLED = frozenset(
    """four hour our your tour pour sour flour dour scour hours yours tours pours course poured
    wise rise raise noise advise exercise surprise promise praise cruise bruise poise disguise
    premise devise revise precise concise demise enterprise paradise franchise otherwise likewise
    arise guise comprise compromise despise excise supervise televise improvise merchandise treatise
    anise chemise mortise tortoise porpoise turquoise expertise advertise chastise incise
    toured pouring poured touring flours contour contours detour velour glamour troubadour
    rises raised rising raising raises noises noised advised advises advising exercised exercises
    exercising surprised surprises surprising promised promises promising praised praises praising
    called calling rolled rolling pulled pulling told filled filling killed killing willing
    spelled spelling telling selling tolled wheelers caller roller ruler miller fuller taller
    smaller killer seller tiller teller dweller dwelling swelling yelling yelled smelled swelled
    ere there where were here more before wore tore bore score store shore fire core
    fence hence pence silence presence absence science sentence influence difference evidence
    violence experience patience existence audience confidence conscience innocence essence
    commence commences consequence residence reverence reference preference obedience indifference
    innocence impudence prudence providence conference circumference intelligence diligence
    eloquence convenience independence magnificence coincidence
    wiser raiser rising noising poised poising bruised bruises bruising disguised disguises
    devised devising revised revising despised despises arisen arising supervised comprised
    compromised advertised advertising advertiser chastised improvised scoured""".split()
)


def read_paragraphs(path: Path) -> Iterator[str]:
    """The paragraphs of one text, without headings and scene breaks."""
    stored = path.read_bytes()
    text = (lzma.decompress(stored) if path.suffix == ".xz" else stored).decode()
    for line in text.split("\n"):
        paragraph = line.strip()
        if paragraph and not paragraph.startswith("# ") and paragraph != "***":
            yield paragraph


def texts(folder: Path) -> list[Path]:
    """The texts of a folder, by name. Raises ValueError if there is none."""
    found = sorted(p for p in folder.iterdir() if p.name.endswith((".txt", ".txt.xz")))
    if not found:
        raise ValueError(f"No .txt or .txt.xz file in {folder}.")
    return found


@dataclass
class Raw:
    """One text as numbers into its own lists."""

    forms: list[str]
    separators: list[str]
    word: npt.NDArray[np.int32]
    case: npt.NDArray[np.uint8]
    before: npt.NDArray[np.int32]
    after: npt.NDArray[np.int32]


def _raw(path: Path) -> Raw:
    forms: dict[str, int] = {}
    seps: dict[str, int] = {}
    columns: tuple[list[int], list[int], list[int], list[int]] = ([], [], [], [])
    for paragraph in read_paragraphs(path):
        for w in words(paragraph):
            columns[0].append(forms.setdefault(w.form, len(forms)))
            columns[1].append(w.case)
            columns[2].append(seps.setdefault(w.before, len(seps)))
            columns[3].append(seps.setdefault(w.after, len(seps)))
    return Raw(
        list(forms),
        list(seps),
        np.array(columns[0], np.int32),
        np.array(columns[1], np.uint8),
        np.array(columns[2], np.int32),
        np.array(columns[3], np.int32),
    )


def _respelled(counts: Counter[str]) -> dict[str, str]:
    """British → American spelling, for pairs that both stand in the texts."""
    pairs: dict[str, str] = {}
    for form, count in counts.items():
        if count < 3 or form in _NOT_RESPELLED or len(form) < 5:
            continue
        for pattern, into in _RESPELLING:
            other = re.sub(pattern, into, form)
            if other != form and counts[other] >= max(2, count // 2000):
                pairs[form] = other
                break
    return pairs


def read_confusions(path: Path) -> dict[str, list[str]]:
    """The table of confusable words: form → forms that may have been meant."""
    table: dict[str, list[str]] = {}
    for line in path.read_text(encoding="utf-8").splitlines():
        if not line or line.startswith("#"):
            continue
        group = line.split()
        for form in group:
            others = table.setdefault(form, [])
            others.extend(o for o in group if o != form and o not in others)
    return table


def make_lexicon(raws: Sequence[Raw]) -> Lexicon:
    """The lists of the model, drawn from the training texts and the table of confusions."""
    counts: Counter[str] = Counter()
    seps: Counter[str] = Counter()
    for raw in raws:
        for form, n in zip(raw.forms, np.bincount(raw.word, minlength=len(raw.forms)), strict=True):
            counts[form] += int(n)
        for column in (raw.before, raw.after):
            for sep, n in zip(
                raw.separators, np.bincount(column, minlength=len(raw.separators)), strict=True
            ):
                seps[sep] += int(n)
    respelled = _respelled(counts)
    merged: Counter[str] = Counter()
    for form, n in counts.items():
        if not form.isdigit():
            merged[respelled.get(form, form)] += n
    listed = tuple(f for f, _ in sorted(merged.items(), key=lambda p: (-p[1], p[0]))[:LISTED])
    known = set(listed)
    common = [s for s, _ in seps.most_common(SEPARATORS * 2) if s not in FIXED_SEPARATORS]
    table = {
        form: tuple(o for o in others if o in known)
        for form, others in read_confusions(HERE / "confusions.txt").items()
        if form in known
    }
    table = {form: others for form, others in table.items() if others}
    return Lexicon(
        listed,
        (*FIXED_SEPARATORS, *common)[:SEPARATORS],
        {a: b for a, b in respelled.items() if b in known},
        tuple(f for f in listed if f not in {"mr", "mrs", "dr", "st"})[:PROPOSED],
        tuple(sorted(table)),
        table,
    )


@dataclass
class Packed:
    """All texts in one row of words.

    `kind` numbers a form in `kinds` (word, head and tail column of each form); `texts` are the
    places where texts begin.
    """

    kind: npt.NDArray[np.int32]
    case: npt.NDArray[np.uint8]
    before: npt.NDArray[np.uint8]
    after: npt.NDArray[np.uint8]
    kinds: npt.NDArray[np.int32]
    texts: npt.NDArray[np.int64]


def pack(raws: Sequence[Raw], lexicon: Lexicon) -> Packed:
    """The numbers of the texts under one lexicon. Forms with the same columns are one kind."""
    kinds: dict[tuple[int, int, int], int] = {}
    columns: list[list[npt.NDArray[np.generic]]] = [[], [], [], []]
    seps = lexicon.separator_numbers
    for raw in raws:
        to_kind = np.array(
            [kinds.setdefault(lexicon.identity(f), len(kinds)) for f in raw.forms], np.int32
        )
        to_sep = np.array([seps.get(s, 0) for s in raw.separators], np.uint8)
        columns[0].append(to_kind[raw.word])
        columns[1].append(raw.case)
        columns[2].append(to_sep[raw.before])
        columns[3].append(to_sep[raw.after])
    lengths = [len(raw.word) for raw in raws]
    kind, case, before, after = (np.concatenate(c) for c in columns)
    return Packed(
        kind,
        case,
        before,
        after,
        np.array(list(kinds), np.int32),
        np.cumsum([0, *lengths])[:-1].astype(np.int64),
    )


def read_all(paths: Sequence[Path], processes: int = 2) -> list[Raw]:
    """Read texts on several processes; the order of the paths is kept."""
    with multiprocessing.Pool(processes) as pool:
        return pool.map(_raw, paths, chunksize=4)


__all__ = ["LISTED_FROM", "Packed", "Raw", "make_lexicon", "pack", "read_all", "texts"]
