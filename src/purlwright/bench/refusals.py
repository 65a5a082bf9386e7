"""What the bench refuses, and why: one plain sentence with the status it leaves with.

In: a sentence. Out: :class:`Refused`, which every part of the bench raises and the app turns into an answer.
"""

from __future__ import annotations

from typing import Any

__all__ = ["Refused"]


class Refused(Exception):  # noqa: N818 - she asked for something that cannot be; nothing went wrong here
    """A request that is not answered. ``status`` is that of HTTP; ``more`` goes beside the sentence."""

    def __init__(self, status: int, sentence: str, **more: Any) -> None:
        super().__init__(sentence)
        self.status = status
        self.sentence = sentence
        self.more = more

    def __reduce__(self) -> tuple[Any, ...]:  # it passes from a worker to the server
        return _refused, (self.status, self.sentence, self.more)


def _refused(status: int, sentence: str, more: dict[str, Any]) -> Refused:
    return Refused(status, sentence, **more)
