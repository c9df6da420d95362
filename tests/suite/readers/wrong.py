"""Which of the texts that a reader said are wrong."""

from others import same


def wrong_of(texts, expected, all_known, by_others):
    """What was read and should not have been. In a picture that was made, every code is known. A photograph may show
    more codes than its index names: there a text that nobody expected is right where a reader that is not this one, and
    not ours, reads it too, and something that was expected was read beside it.

    >>> wrong_of(["A", "B"], ["A"], True, ["B"])
    ['B']
    >>> wrong_of(["A", "B"], ["A"], False, ["A", "B"])
    []
    >>> wrong_of(["A", "invented"], ["A"], False, ["A", "B"])
    ['invented']
    >>> wrong_of(["B"], ["A"], False, ["B"])
    ['B']
    >>> wrong_of(["A\\r\\n"], ["A"], False, [])
    []
    """
    right = [text for text in texts if any(same(text, wanted) for wanted in expected)]
    known = by_others if right and not all_known else []
    return [text for text in texts if text not in right and not any(alike(text, other) for other in known)]


def alike(one, other):
    """Whether two readers say the same, whatever letters either took the bytes for."""
    return same(one, plain(other)) or same(other, plain(one))


def plain(text):
    return text.replace("\r\n", "\n").strip()
