"""One session under the checklist: read, opened, judged, under its sign-offs, held against a baseline."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING

from mixlint.errors import InputError, MixlintError
from mixlint.extensions import faults
from mixlint.runs.listening import Watch, listen_ahead
from mixlint.runs.paths import shown
from mixlint.session import Session

if TYPE_CHECKING:
    from mixlint.analysis.context import SessionContext
    from mixlint.analysis.sound_memory import SoundMemory
    from mixlint.reports.pictures.picture import Pictures
    from mixlint.review.baseline import Since
    from mixlint.review.findings import BounceOutcome, Counts, Finding, Grade, Passed, SessionReview
    from mixlint.review.run import ChecklistRun
    from mixlint.rulebook import Rule, Standard
    from mixlint.store.kept import Kept


@dataclass(frozen=True, slots=True)
class Review:
    """The review of one session: what it came to, and what it rests on.

    Args:
        result: the review as it stands in a report in JSON (``schemas/report.schema.json``): source, title, standard,
            digest, assumptions, notes and all that follows here.
        rules: the rules that were in force, by id.
        hold_on: the lightest grade of a flagged finding that holds the bounce.
        everything: the findings hold the clear and idle rows too.
        pictures: the channel sheet and the drawings, where they were asked for.
        unfitted: the name patterns of the standard that fit no name in this session, as ``[roles] "Marigold*"``.
        passed: the clear rows by name, where they were asked for and are none of the findings.
        kept: what a store keeps beside it, where it was asked for.
    """

    result: SessionReview
    rules: Mapping[str, Rule]
    hold_on: Grade = "hold"
    everything: bool = False
    pictures: Pictures | None = None
    unfitted: tuple[str, ...] = ()
    passed: tuple[Passed, ...] | None = None
    kept: Kept | None = None

    @property
    def outcome(self) -> BounceOutcome:
        """``held``: do not bounce. ``look``: look at what is flagged or asked first. ``clear``: neither."""
        return self.result.outcome

    @property
    def counts(self) -> Counts:
        """How many rows came out flagged, open, signed, clear and idle; of the first two how many at each grade."""
        return self.result.counts

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The rows that are flagged, open or signed off, in desk order, the graver first on one channel.

        Clear and idle rows are among them only where ``everything`` was asked for.
        """
        return self.result.findings

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What every computed number assumes, a sentence each: pan laws that no standard states, the importer's own."""
        return self.result.assumptions

    @property
    def notes(self) -> tuple[str, ...]:
        """What else a reader should know: installed packages that could not be used, each with its entry point."""
        return self.result.notes


def check(
    what: Session | str | PathLike[str],
    *,
    standard: Standard | str | PathLike[str] | None = None,
    audio: bool = True,
    areas: Collection[str] = (),
    only: Collection[str] = (),
    leave_out: Collection[str] = (),
    hold_on: Grade = "hold",
    files: str | PathLike[str] | None = None,
    printed: str | PathLike[str] | None = None,
    baseline: Since | str | PathLike[str] | None = None,
    everything: bool = False,
    clear_named: bool = False,
    pictures: bool = False,
    keep: bool = False,
    workers: int = 0,
    day: date | None = None,
    watch: Watch | None = None,
    memory: SoundMemory | None = None,
) -> Review:
    """Run the checklist over one session, as the command ``mixlint review`` does.

    Of a path the sign-offs and the approval beside it count too. Nothing is written but measures of audio, into the
    user's cache folder (``MIXLINT_CACHE``).

    Args:
        what: a session, or the path of a session file, of a folder with one session in it, or of a folder of stems.
        standard: the standard in force, its file or its name. Else ``mixlint-standard.toml`` beside the session or in
            a folder above it, else ``pre-bounce``.
        audio: open the audio; without it levels are estimated from the settings, and the figures say so.
        areas: only the rules of these areas, such as ``{"ambience"}``; of all where there are none.
        only: ids of the only rules to run; all others are left out, unless there are none.
        leave_out: ids of rules to leave out.
        hold_on: the lightest grade of a flagged finding that holds the bounce.
        files: of a :class:`Session`, the file it was read from, or the folder that the paths of its media start from.
            Without it, no audio is opened and no standard looked for.
        printed: the print of the mix; else one on a track, or beside the session, is known by its name.
        baseline: an earlier report in JSON, or an approval: only what is new or worse since then counts.
        everything: make a finding of each clear and idle row too.
        clear_named: name each clear row at least, for a form that counts what passed (``junit``).
        pictures: make the channel sheet and the drawings, for a form that shows them (``html``).
        keep: gather what a store of reviews keeps beside the review.
        workers: processes that measure audio; 0 measures in this one. A script that asks for workers has to guard its
            main module (``if __name__ == "__main__":``), since they import it.
        day: the day that the ends of sign-offs are held against; today unless given.
        watch: is told what is being done (:class:`mixlint.runs.listening.Watch`).
        memory: what earlier reviews worked out of sound, to be used again where nothing that it depends on changed.

    Raises:
        InputError: the session, or a file that goes with it, cannot be used.
        RulebookError: the standard, or one of its rule or word files, has faults.
        MixlintError: the standard has no such rule or area, or there is no such grade.
    """
    from mixlint.review.findings import GRAVITY
    from mixlint.review.run import ChecklistRun
    from mixlint.rulebook import Standard, load_standard
    from mixlint.rulebook.choosing import known_areas, known_rules

    if hold_on not in GRAVITY:
        raise MixlintError(f"there is no grade called {hold_on!r}", do=f"choose one of {', '.join(GRAVITY)}")
    place = place_of(what, files)
    if not isinstance(standard, Standard):
        standard = load_standard(standard, place)
    known_areas(areas, standard)
    known_rules([*only, *leave_out], standard)
    run = ChecklistRun(standard, day or date.today(), frozenset(areas), frozenset(leave_out), hold_on, frozenset(only))
    job = _Job(run, everything, clear_named, pictures, keep, _since(baseline), watch or Watch())
    given = None if printed is None else Path(printed)
    return job.over(what, place, audio=audio, workers=workers, printed=given, memory=memory)


def place_of(what: Session | str | PathLike[str], files: str | PathLike[str] | None) -> Path | None:
    """Where a session and its audio lie; None for one that was built and lies nowhere.

    Raises:
        InputError: the path stands for no session, or for several.
    """
    from mixlint.importers.choosing import one_session_at

    if isinstance(what, Session):
        place = None if files is None else Path(files)
        if place is not None and not place.exists():
            raise InputError("there is no such file or folder", where=str(place), do="name where the audio lies")
        return place
    if files is not None:
        raise InputError("files were named beside the path of a session", where=str(files), do="leave them out")
    return one_session_at(Path(what))


def _since(baseline: Since | str | PathLike[str] | None) -> Since | None:
    from mixlint.review.baseline import Since, read_baseline

    if baseline is None or isinstance(baseline, Since):
        return baseline
    path = Path(baseline)
    return Since(read_baseline(path), shown(path))


@dataclass(frozen=True, slots=True)
class _Job:
    """What is done to one session; the arguments are those of :func:`check`."""

    run: ChecklistRun
    everything: bool
    clear_named: bool
    pictures: bool
    keep: bool
    since: Since | None
    watch: Watch

    def over(
        self,
        what: Session | str | PathLike[str],
        place: Path | None,
        *,
        audio: bool,
        workers: int,
        printed: Path | None,
        memory: SoundMemory | None,
    ) -> Review:
        from mixlint.analysis.house_patterns import unfitted_patterns
        from mixlint.analysis.opening import context_for
        from mixlint.comparison.paths import approval_beside
        from mixlint.importers.prints import check_print

        if printed is not None:
            check_print(printed, audio=audio)
        beside = None if isinstance(what, Session) else place  # where sign-offs and the approval lie
        session = what if isinstance(what, Session) else self._read(place or Path(what))
        approved = approval_beside(beside) if beside is not None else None
        house = self.run.standard.house
        with context_for(
            session, place, house, audio=audio, approved=approved, printed=printed, workers=workers, memory=memory
        ) as context:
            passed: list[Passed] | None = [] if self.clear_named and not self.everything else None
            made = self._judged(context, place, beside, passed)
            drawn = None
            if self.pictures:  # drawn now, so that no session is kept open beyond its review
                from mixlint.reports.pictures import pictures_of
                from mixlint.reports.pictures.picture import Scene

                drawn = pictures_of(Scene(context, made.findings, tuple(self.run.standard.rules.values())))
            kept = None
            if self.keep:
                from mixlint.store.kept import kept_of

                kept = kept_of(context, self.run.rules.values())
        unfitted = unfitted_patterns(session, house)
        rules = self.run.standard.rules
        asked = self._as_asked(made, passed)
        named = None if passed is None else tuple(passed)
        return Review(asked, rules, self.run.hold_on, self.everything, drawn, unfitted, named, kept)

    def _read(self, path: Path) -> Session:
        from mixlint.importers import read

        session = read(path, self.run.standard.house.vocabulary)
        self.watch.was_read(session, path)
        return session

    def _judged(
        self, context: SessionContext, place: Path | None, beside: Path | None, passed: list[Passed] | None
    ) -> SessionReview:
        from mixlint.analysis.context import SessionContext
        from mixlint.signoffs.paths import signoff_files
        from mixlint.signoffs.session import under_signoffs

        run, session = self.run, context.session
        source = shown(place) if place is not None else session.title
        if run.whole:  # a few rules may need none of it
            silent = SessionContext(session, context.house, approved=context.approved, prints=context.prints)
            listen_ahead(context, self.watch, lambda: run.review(silent, source=source, digest="", everything=False))
        signed = beside is not None and bool(signoff_files(beside))
        every = self.everything or self.since is not None or signed
        made = run.review(
            context,
            source=source,
            digest=_digest(session, beside),
            everything=every,
            passed=None if every else passed,
        )
        if beside is not None:
            made = under_signoffs(made, context, beside, run)
        if self.since is not None:
            from mixlint.review.baseline import baseline_findings, only_new

            old = baseline_findings(self.since.body, made, self.since.source)
            made = only_new(made, old, run.standard.rules, self.since.source, run.hold_on)
        return made

    def _as_asked(self, made: SessionReview, passed: list[Passed] | None) -> SessionReview:
        """Without clear and idle rows that only sign-offs or a baseline needed, and with what packages failed at."""
        from mixlint.review.engine import without_quiet

        made = made if self.everything else without_quiet(made, passed)
        notes = tuple(str(one) for one in faults())
        return made.model_copy(update={"notes": notes}) if notes else made


def _digest(session: Session, beside: Path | None) -> str:
    """Of what was read, or of a session that was built."""
    from mixlint.importers import digest

    if beside is not None:
        return digest(beside)
    import hashlib

    return f"sha256:{hashlib.sha256(session.json_text().encode('utf-8')).hexdigest()}"
