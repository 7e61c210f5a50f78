"""Hand-made reports that the tests of the reports share. The songs, bands and devices are invented."""

from __future__ import annotations

from mixlint.review.findings import (
    Counts,
    Evidence,
    Finding,
    GradeCounts,
    Reason,
    Report,
    SessionReview,
    SubjectRef,
)

PLATE = Finding(
    rule="return-fully-wet",
    title="A reverb return carries no dry signal",
    area="ambience",
    grade="hold",
    verdict="flagged",
    subject=SubjectRef(table="return", id="id42", name="Plate"),
    message="Plate passes −9.5 dB of dry signal (wet share 25 %).",
    remedy="Set the effect to 100 % wet, or mute the dry path on the return.",
    evidence=(
        Evidence(
            fact="dry_db", value=-9.5, unit="dB", limit=-40.0, known="declared", where="project.xml:118",
            note="wet share 25 %",
        ),
        Evidence(fact="effect", value="reverb", known="declared", where="project.xml:117"),
    ),
    where="project.xml:118",
    order=6,
    channels=("id42",),
    fingerprint="a1",
)  # fmt: skip

BALANCE = Finding(
    rule="stereo-balanced",
    title="Left and right carry like energy",
    area="width",
    grade="look",
    verdict="flagged",
    subject=SubjectRef(table="session", id="session", name="Evening Harbour"),
    message="The mix leans 2.4 dB to the left over the song; Accordion pulls it there in bars 17 to 24.",
    remedy="Answer Accordion on the right, or bring it nearer the middle.",
    evidence=(
        Evidence(
            fact="lean_db",
            value=2.4,
            unit="dB",
            limit=1.5,
            known="assumed",
            note="from faders, pans and clips",
        ),
        Evidence(fact="worst_stretch_db", value=7.25, unit="dB", limit=6.0, known="assumed", note="bars 17 to 24"),
    ),
    where="bars 17 to 24",
    order=0,
    channels=("id3",),
    fingerprint="b2",
)

ANSWER = Finding(
    rule="pan-answered",
    title="A part panned to one side is answered on the other",
    area="width",
    grade="look",
    verdict="flagged",
    subject=SubjectRef(table="source", id="id3", name="Accordion"),
    message="Accordion sits 60 left and nothing answers it.",
    remedy="Pan a like part to the right, or bring Accordion nearer the middle.",
    evidence=(Evidence(fact="pan", value=-60.0, unit="pan", limit=(-30.0, 30.0), known="declared"),),
    order=2,
    channels=("id3",),
    cause="b2",
    fingerprint="c3",
)

OPEN = Finding(
    rule="return-low-cut",
    title="A return is cut low",
    area="ambience",
    grade="look",
    verdict="open",
    subject=SubjectRef(table="return", id="id42", name="Plate"),
    message="The low cut of Plate cannot be seen.",
    remedy="Put a low cut at 200 Hz before the effect.",
    question="Is the low end cut before or after Plate?",
    reasons=(
        Reason(
            fact="low_cut_db",
            why="the settings of Valley EQ are hidden in the export",
            settle="print the return alone, or look at its equaliser",
        ),
    ),
    order=6,
    channels=("id42",),
    fingerprint="d4",
)

SIGNED = Finding(
    rule="solo-off",
    area="prep",
    grade="hold",
    verdict="signed",
    subject=SubjectRef(table="channel", id="id9", name="Click"),
    message="Click is soloed. Signed off by M. R.: the drummer asked for it.",
    order=9,
    channels=("id9",),
    fingerprint="e5",
)

CLEAR = Finding(
    rule="mix-bus-headroom",
    area="mix-bus",
    grade="hold",
    verdict="clear",
    subject=SubjectRef(table="session", id="session", name="Evening Harbour"),
    message="The mix bus keeps 4 dB of headroom.",
    fingerprint="f6",
)

IDLE = CLEAR.model_copy(
    update={
        "rule": "stems-line-up",
        "area": "handover",
        "grade": "note",
        "verdict": "idle",
        "fingerprint": "g7",
    }
)

HARBOUR = SessionReview(
    source="evening-harbour.json",
    title="Evening Harbour",
    importer="json",
    digest="sha256:00ff",
    standard="pre-bounce",
    outcome="held",
    counts=Counts(
        flagged=3, open=1, signed=1, clear=1, idle=1,
        flagged_by_grade=GradeCounts(hold=1, look=2), open_by_grade=GradeCounts(look=1),
    ),
    assumptions=("pan law: equal power, −3.01 dB centre",),
    findings=(BALANCE, ANSWER, PLATE, OPEN, SIGNED, CLEAR, IDLE),
)  # fmt: skip

LULLABY = SessionReview(
    source="lullaby.json",
    title="Lullaby for Two Lamps",
    importer="json",
    digest="sha256:11ee",
    standard="pre-bounce",
    outcome="clear",
    counts=Counts(clear=12, idle=30),
)

ESCAPE = "\x1b[2J\x1b[31mred\x07"
HOSTILE_NAME = f"[bold]Gtr[/] <script>alert(1)</script> & {{{{ 7*7 }}}} {ESCAPE}\nline two\r\u202egnp.exe\x9b1m \ufffe"

HOSTILE = SessionReview(
    source="wal\x1b]0;owned\x07k.json",
    title="<b>Walk</b>\nwith me " + "very long " * 60,
    importer="json",
    digest="sha256:22dd",
    standard='house "A" & <co>',
    outcome="held",
    counts=Counts(flagged=1),
    assumptions=(f"assumed of {HOSTILE_NAME}",),
    findings=(
        PLATE.model_copy(
            update={
                "subject": SubjectRef(table="return", id="a/b\n", name=HOSTILE_NAME),
                "message": f"{HOSTILE_NAME} passes dry signal.",
                "remedy": f"Look at {HOSTILE_NAME}; then turn it down.",
                "where": "songs/\x1b[1mx.xml:12",
                "evidence": (Evidence(fact="note", value=HOSTILE_NAME, known="declared", note=HOSTILE_NAME),),
            }
        ),
        OPEN.model_copy(
            update={
                "subject": SubjectRef(table="return", id="c", name="絵" * 200),
                "question": f"Is {HOSTILE_NAME} cut?",
                "reasons": (Reason(fact="x", why=HOSTILE_NAME, settle=HOSTILE_NAME),),
            }
        ),
    ),
)


def report(*sessions: SessionReview) -> Report:
    """A report of these sessions, Evening Harbour alone by default."""
    return Report(version="0.1.0", sessions=sessions or (HARBOUR,))


def many(count: int) -> SessionReview:
    """A review with ``count`` look findings, no two of which say the same, and one hold in the middle."""
    findings = [
        ANSWER.model_copy(
            update={
                "subject": SubjectRef(table="source", id=f"i{n}", name=f"Part {n}"),
                "order": n,
                "cause": "",
                "fingerprint": f"m{n}",
                "message": f"Part {n} sits 60 left; {'far, ' * n}nothing answers it.",
                "grade": "hold" if n == count // 2 else "look",
            }
        )
        for n in range(count)
    ]
    return HARBOUR.model_copy(update={"findings": tuple(findings), "counts": Counts(flagged=count)})
