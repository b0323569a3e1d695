"""The difference of two strings, by whichever library of it is here.

fast-diff-match-patch is diff-match-patch in C++. Its wheels are made for some versions of Python
only, and nobody should need a compiler to revise a novel; on the others the same algorithm runs in
Python, some sixty times slower, which is still quick for a scene.
"""

from itertools import groupby

from diff_match_patch import diff_match_patch

try:
    import fast_diff_match_patch
except ImportError:
    fast_diff_match_patch = None

PATIENCE = 5.0
"""Seconds the slower one may take; past them its difference is coarser, and still exact."""

_SIGNS = {0: "=", -1: "-", 1: "+"}


def steps(old: str, new: str) -> list[tuple[str, int]]:
    """What leads from `old` to `new`: "=", "-" or "+", each with a count of code points."""
    if fast_diff_match_patch is None:
        return steps_in_python(old, new)
    found: list[tuple[str, int]] = fast_diff_match_patch.diff(
        old, new, timelimit=0, checklines=False, cleanup="No", counts_only=True
    )
    return found


def steps_in_python(old: str, new: str) -> list[tuple[str, int]]:
    """The same as `steps`, by the library that runs everywhere."""
    comparison = diff_match_patch()
    comparison.Diff_Timeout = PATIENCE
    found = comparison.diff_main(old, new, False)
    runs = groupby(found, key=lambda step: step[0])
    return [(_SIGNS[sign], sum(len(text) for _, text in run)) for sign, run in runs]
