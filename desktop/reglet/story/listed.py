"""The word lists of ``resources/story``: words under sections headed ``[name]``."""

from functools import cache

from reglet import resources


@cache
def sections(name: str) -> dict[str, frozenset[str]]:
    """The words of each section of a list, as written; those before the first one under "".

    Raises OSError where there is no such list.
    """
    words: set[str] = set()
    found = {"": words}
    for line in resources.path("story", name).read_text(encoding="utf-8").splitlines():
        if line.startswith("["):
            words = found.setdefault(line.strip("[]"), set())
        elif not line.startswith("#"):
            words.update(line.split())
    return {section: frozenset(each) for section, each in found.items()}


def all_of(name: str) -> frozenset[str]:
    """The words of every section of a list."""
    return frozenset().union(*sections(name).values())
