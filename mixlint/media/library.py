"""A session's audio: each file measured once, however often and under however many names it is asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO, Final

from mixlint.errors import InputError
from mixlint.media.audio import AudioFile
from mixlint.media.container import PlainContainer
from mixlint.media.files import Files
from mixlint.media.known_content import keep_content, known_content
from mixlint.media.measure import Measure
from mixlint.media.places import Place
from mixlint.media.storing import fetch, keep, shelf, tidy
from mixlint.media.stretch_reading import StretchReading, read_stretch
from mixlint.media.whole import decode
from mixlint.media.workers import measure_file, measure_in_workers
from mixlint.session import Session, Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

MOST_MINUTES: Final = 1200.0
"""How much audio one session may have measured, minutes: two hundred tracks of six minutes."""

WORTH_WORKERS_S: Final = 120.0
"""From how many seconds of audio on other processes measure it: they take a quarter of a second to start, in which this
one measures half a minute (see :mod:`mixlint.media.workers`)."""

LONGEST_HOURS: Final = 4.0
"""A longer file is not measured, hours: a header can claim a day of audio that is nothing but a hole on the disk."""


class Library(Files):
    """The audio of one session.

    Copies of a file under other names are measured once, told by their content. Files are read in blocks: ten minutes
    of 24-bit stereo took 15 MB beyond what numpy and the decoder hold (resident memory peaked at 60 MB).

    Args:
        session: the session in the neutral form.
        session_path: the session file, or the folder that holds the stems.
        cache_dir: keep measures here between runs, by content, as far as it can be written; nothing when left out.
        allow_outside: open files outside the session's folder too.
        max_minutes: the most audio to measure; files beyond it are Unknown.
        workers: processes to measure in; 0 measures in this one (see :mod:`mixlint.media.workers`).
        named: files that the session does not list and that somebody named, by an id of their own.
    """

    def __init__(
        self,
        session: Session,
        session_path: str | Path,
        *,
        cache_dir: str | Path | None = None,
        allow_outside: bool = False,
        max_minutes: float = MOST_MINUTES,
        workers: int = 0,
        named: Mapping[str, Path] | None = None,
    ) -> None:
        super().__init__(session, session_path, allow_outside=allow_outside, named=named)
        self._cache_dir = None if cache_dir is None else Path(cache_dir)
        self._max_minutes = max_minutes
        self._kept = False
        self._left_s = max_minutes * 60.0
        self._workers = workers
        self._measures: dict[Place, Measure | Unknown] = {}
        self._sizes: dict[Place, int | Unknown] = {}
        self._decoded: dict[Place, bool | Unknown] = {}
        self._stretches: dict[tuple[Place, int, int], StretchReading | Unknown] = {}
        self._firsts: dict[int, list[str]] = {}  # the media ids to be measured, by size in bytes

    def close(self) -> None:
        """Let go of the session's container, and of kept measures that are too many."""
        super().close()
        if self._kept and self._cache_dir is not None:
            tidy(self._cache_dir)
            self._kept = False

    def digest(self, media_id: str) -> str | Unknown:
        """The hash of a file's bytes, ``sha256:…``; kept between runs for a file that did not change."""
        place = self.place(media_id)
        if self._cache_dir is None or isinstance(place, Unknown) or place in self._digests:
            return super().digest(media_id)
        container = self._opened(place)
        if not isinstance(container, PlainContainer):
            return super().digest(media_id)
        file = Path(container.place(place.member))
        kept = known_content(self._cache_dir, file)
        if kept is not None:
            self._digests[place] = kept
            return kept
        found = super().digest(media_id)
        if isinstance(found, str):
            with suppress(OSError):  # full, or not to be written: it is hashed again next time
                keep_content(self._cache_dir, file, found)
        return found

    def measure(self, media_id: str) -> Measure | Unknown:
        """A file's measure; made when first asked for."""
        place = self.place(media_id)
        if isinstance(place, Unknown):
            return place
        if place not in self._measures:
            self.measure_all([media_id])
        return self._measures[place]

    def whole(self, media_id: str, *, measured: bool) -> bool | Unknown:
        """Whether a file can be read to its end and is what its checksums say, as far as it carries any.

        Args:
            media_id: which.
            measured: it will be measured anyway; else it is only decoded, which takes a fifth of the time.

        Returns:
            False for a damaged or refused file, with the error in :meth:`fault`; Unknown where it was not read.
        """
        place = self.place(media_id)
        if isinstance(place, Unknown):
            return place
        found: Measure | bool | Unknown | None = self._too_long(media_id)
        if found is None and (measured or place in self._measures):
            found = self.measure(media_id)
        elif found is None:
            found = self._once(media_id, self._decoded, _decoded)
        if isinstance(found, Unknown):
            return found if self.fault(media_id) is None else False
        return self.fault(media_id) is None

    def _too_long(self, media_id: str) -> Unknown | None:
        header = self.header(media_id)
        if isinstance(header, Unknown) or header.duration_s <= LONGEST_HOURS * 3600.0:
            return None
        hours = header.duration_s / 3600.0
        return Unknown(
            unknown=f"it lasts {hours:.1f} hours, longer than the {LONGEST_HOURS:g} that are read", settle="split it"
        )

    def measure_all(
        self,
        media_ids: Iterable[str] | None = None,
        progress: Callable[[str], None] | None = None,
        begin: Callable[[float], None] | None = None,
    ) -> None:
        """Measure files ahead, in other processes where there are workers and the work is worth starting them.

        Args:
            media_ids: which; all when left out.
            progress: called with each id as its measure is ready; with those that need none, after the others.
            begin: called once before, with how many seconds of audio have to be measured.
        """
        asked = list(self.ids if media_ids is None else media_ids)
        due, copies = self._due(asked)
        due_s = sum(self._length_s(media_id) for media_id in due.values())
        if begin is not None:
            begin(due_s)
        if self._workers > 0 and due_s > WORTH_WORKERS_S:
            for place, result in measure_in_workers(due, self._workers):
                self._take(due[place], place, result, progress)
        else:
            for place, media_id in due.items():
                self._take(media_id, place, self._here(place), progress)
        for place, first in copies:
            self._measures[place] = self.measure(first)
            if (fault := self.fault(first)) is not None:
                self._faults[place] = fault
        if progress is not None:
            measured = set(due.values())
            for media_id in dict.fromkeys(asked):
                if media_id not in measured:
                    progress(media_id)

    def _length_s(self, media_id: str) -> float:
        header = self.header(media_id)
        return 0.0 if isinstance(header, Unknown) else header.duration_s

    def _due(self, media_ids: Iterable[str]) -> tuple[dict[Place, str], list[tuple[Place, str]]]:
        """What has to be measured, by place, and the copies of it with the id of the first; the rest is entered."""
        due: dict[Place, str] = {}
        copies: list[tuple[Place, str]] = []
        for media_id in media_ids:
            place = self.place(media_id)
            if isinstance(place, Unknown) or place in self._measures or place in due:
                continue
            known = self._before(media_id)
            if known is None:
                due[place] = media_id
            elif isinstance(known, str):
                copies.append((place, known))
            else:
                self._measures[place] = known
        return due, copies

    def _here(self, place: Place) -> Measure | InputError:
        try:
            return measure_file(place, self._opened(place))
        except InputError as fault:
            return fault

    def _before(self, media_id: str) -> Measure | Unknown | str | None:
        """What spares measuring a file: a kept measure, a reason against, or the id of a copy; None when nothing."""
        header = self.header(media_id)
        if isinstance(header, Unknown):
            return header
        size = self._once(media_id, self._sizes, lambda _, file: file.seek(0, 2))
        if isinstance(size, Unknown):
            return size
        firsts = self._firsts.setdefault(size, [])
        # Only files of one size can be copies, so most are never hashed.
        content = self.digest(media_id) if firsts or self._cache_dir is not None else None
        if isinstance(content, Unknown):
            return content
        for first in firsts:
            if self.digest(first) == content:
                return first
        if content is not None and self._cache_dir is not None:
            kept = fetch(shelf(self._cache_dir, content), header)
            if kept is not None:
                return kept
        if (long := self._too_long(media_id)) is not None:
            return long
        if header.duration_s > self._left_s:
            return Unknown(
                unknown=f"the session holds more than the {self._max_minutes:g} minutes of audio that are measured",
                settle="review it in parts, a folder for each",
            )
        self._left_s -= header.duration_s
        firsts.append(media_id)
        return None

    def _take(
        self, media_id: str, place: Place, result: Measure | InputError, progress: Callable[[str], None] | None
    ) -> None:
        if isinstance(result, InputError):
            self._measures[place] = self._fails(place, result)
        else:
            self._measures[place] = result
            content = self.digest(media_id) if self._cache_dir is not None else None
            if self._cache_dir is not None and isinstance(content, str):
                try:
                    keep(result, shelf(self._cache_dir, content))
                    self._kept = True
                except OSError:  # full, or gone: the next run measures again, and nothing else changes
                    self._cache_dir = None
        if progress is not None:
            progress(media_id)

    def excerpt(self, media_id: str, start_s: float, duration_s: float) -> NDArray[np.float32] | Unknown:
        """The samples (legs, n) of a short stretch, such as the edge of a clip; silence beyond the file's ends."""
        found = self.excerpts(media_id, [(start_s, duration_s)])
        return found if isinstance(found, Unknown) else found[0]

    def excerpts(self, media_id: str, stretches: Iterable[tuple[float, float]]) -> list[NDArray[np.float32]] | Unknown:
        """Several stretches (start, duration in seconds) in the order given, read in one pass.

        A packed member of an archive can only be unpacked forwards, so that each stretch by itself costs a pass.
        """
        wanted = list(stretches)
        place = self.place(media_id)
        if isinstance(place, Unknown):
            return place
        header = self.header(media_id)
        if isinstance(header, Unknown):
            return header
        try:
            with place.opened(self._opened(place)) as file, AudioFile(file, name=place.shown) as audio:
                rate = header.sample_rate_hz
                read = {one: audio.excerpt(round(one[0] * rate), round(one[1] * rate)) for one in sorted(set(wanted))}
                return [read[one] for one in wanted]
        except InputError as fault:
            return self._fails(place, fault)

    def stretch(self, media_id: str, start_s: float, end_s: float) -> StretchReading | Unknown:
        """What a stretch of a file holds that its measure does not keep over time; read once, when first asked for."""
        place, header = self.place(media_id), self.header(media_id)
        if isinstance(place, Unknown):
            return place
        if isinstance(header, Unknown):
            return header
        if (long := self._too_long(media_id)) is not None:
            return long
        key = (place, round(start_s * header.sample_rate_hz), round(end_s * header.sample_rate_hz))
        if key not in self._stretches:
            try:
                with place.opened(self._opened(place)) as file, AudioFile(file, name=place.shown) as audio:
                    self._stretches[key] = read_stretch(audio, key[1], key[2])
            except InputError as fault:
                self._stretches[key] = self._fails(place, fault)
        return self._stretches[key]

    @contextmanager
    def side_by_side(self, media_ids: Sequence[str]) -> Iterator[list[AudioFile]]:
        """Several files open at once, to be read stretch by stretch.

        Raises:
            InputError: one is not there or cannot be read.
        """
        with ExitStack() as stack:
            opened = []
            for media_id in media_ids:
                place = self.place(media_id)
                if isinstance(place, Unknown):
                    raise InputError(place.unknown, where=media_id, do=place.settle)
                file = stack.enter_context(place.opened(self._opened(place)))
                opened.append(stack.enter_context(AudioFile(file, name=place.shown)))
            yield opened


def _decoded(place: Place, file: BinaryIO) -> bool:
    decode(file, place.shown)
    return True
