"""Many sessions reviewed side by side, and told in their own order as soon as the next in it is ready."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, wait
from pathlib import Path
from typing import TYPE_CHECKING, Final, Generic, TypeVar

from mixlint.errors import MixlintError
from mixlint.runs.crew import HandsGone
from mixlint.runs.each_apart import Made, Task, own_fault
from mixlint.runs.listening import Watch

if TYPE_CHECKING:
    from mixlint.runs.crew import Hands

AHEAD: Final = 3
"""For each worker so many sessions may be done or under way before the one that is told next: where one takes long, no
more than these wait for it, however many there are."""

_PATIENCE_S: Final = 1.0
"""How long this process waits at a stretch, seconds: on some systems it hears no Ctrl-C before."""

M = TypeVar("M", bound=Made)


class InOrder(Generic[M]):
    """What comes of many sessions, in their order.

    Args:
        sessions: the sessions.
        task: what is handed out for one.
        hands: takes the tasks.
        jobs: how many are worked on at a time.
        watch: whoever looks on while one is reviewed.
        waits_for: is told which one is waited for.
        known: those that need not be reviewed, by their numbers.
        recall: what was kept of one of these; None where it is not there any more, so that it is reviewed.
    """

    def __init__(
        self,
        sessions: Sequence[Path],
        task: Callable[[Path], Task],
        hands: Hands,
        jobs: int,
        watch: Callable[[Path], Watch],
        waits_for: Callable[[Path], None],
        known: frozenset[int] = frozenset(),
        recall: Callable[[int], M | None] = lambda _: None,
    ) -> None:
        self._sessions, self._task, self._hands = sessions, task, hands
        self._watch, self._waits_for = watch, waits_for
        self._known, self._recall = known, recall
        self._most = AHEAD * max(1, jobs)

    def __iter__(self) -> Iterator[tuple[Path, M | MixlintError | OSError]]:
        """Each session with what came of it: a review, or the fault that it met."""
        waiting: deque[tuple[int, Future[Made]]] = deque()
        due = iter([at for at in range(len(self._sessions)) if at not in self._known])
        for at, session in enumerate(self._sessions):
            while len(waiting) < self._most and (one := next(due, None)) is not None:
                waiting.append((one, self._submitted(self._sessions[one])))
            self._waits_for(session)
            kept = self._recall(at) if at in self._known else None
            if kept is not None:
                yield session, kept
                continue
            future = waiting.popleft()[1] if at not in self._known else self._submitted(session)
            yield session, self._came_of(session, future)

    def _submitted(self, session: Path) -> Future[Made]:
        return self._hands.submit(self._task(session), self._watch(session))

    def _came_of(self, session: Path, future: Future[Made]) -> M | MixlintError | OSError:
        try:
            return _result(future)  # type: ignore[return-value]  # the task that was handed out makes it
        except HandsGone:
            raise
        except (MixlintError, OSError) as fault:
            return fault
        except Exception as fault:  # noqa: BLE001 - a fault of mixlint's own, which may not cost the other sessions
            return own_fault(fault, session)


def _result(future: Future[Made]) -> Made:
    while not wait([future], _PATIENCE_S).done:
        pass
    return future.result()
