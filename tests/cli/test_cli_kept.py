"""Reviews that are kept: made anew by every change that counts and by no other, the same to the byte, never believed
where they are damaged."""

from __future__ import annotations

import json
import os
import random
import wave
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from cli_sessions import RULE, half_wet, session_body
from typer.testing import CliRunner

from mixlint import notices
from mixlint.cli.app import app
from mixlint.review import run as review_run
from mixlint.runs import check, each_apart, kept, part_review, state, witness
from mixlint.runs.kept import Entry, Looked, Span, fetch, keep, still
from mixlint.runs.witness import Witness

FORMS = ("text", "json", "sarif", "junit", "html", "line")


def sound(path: Path, level: int) -> None:
    """A tenth of a second of one sample again and again."""
    path.parent.mkdir(exist_ok=True)
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(8000)
        file.writeframes(level.to_bytes(2, "little") * 800)


def album(top: Path) -> list[Path]:
    """Three songs in folders of their own under one standard with a rule and words; each plays one file, names two."""
    (top / "mixlint-standard.toml").write_text(
        'name = "lamp-house"\ntakes = ["return-fully-wet", "nothing-soloed", "media-present"]\n'
        'rules = ["rules/*.toml"]\nwords = ["words.toml"]\n'
    )
    (top / "words.toml").write_text('[part.lead-vocal]\nen = "lampion"\n')
    (top / "rules").mkdir()
    (top / "rules" / "voice-named.toml").write_text(RULE)
    found = []
    for name in ("one", "two", "three"):
        body = half_wet(session_body(title=f"Lamp {name}"))
        voice = body["channels"][0]
        voice["clips"] = [{"start_s": 0.0, "end_s": 0.1, "plays": "audio", "file": "a"}]
        body["media"] = [
            {"id": "a", "path": "audio/voice.wav", "place": "beside", "duration_s": 0.1},
            {"id": "b", "path": "audio/later.wav", "place": "beside", "duration_s": 0.1},
        ]
        (top / name).mkdir()
        sound(top / name / "audio" / "voice.wav", 1000)
        (path := top / name / f"{name}.json").write_text(json.dumps(body), encoding="utf-8")
        found.append(path)
    return found


class Many:
    """Runs ``review`` in this process as if in a fresh one each time, and counts the reviews that were made."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.monkeypatch = monkeypatch
        self.made: list[Path] = []
        real = check.check

        def counted(what: Any, **more: Any) -> Any:
            self.made.append(what)
            return real(what, **more)

        monkeypatch.setattr(check, "check", counted)
        monkeypatch.setattr(each_apart.EachApart, "review", lambda apart, task, watch: apart._task(task, watch))

    def __call__(self, *arguments: object) -> tuple[str, int]:
        self.made.clear()
        self.monkeypatch.setattr(each_apart, "_LOADED", {})
        self.monkeypatch.setattr(part_review, "_SEEN", {})
        self.monkeypatch.setattr(witness, "_OWN", [])
        self.monkeypatch.setattr(notices, "_found", {})
        done = CliRunner().invoke(app, ["review", *map(str, arguments)])
        assert not isinstance(done.exception, Exception), done.exception
        assert done.exit_code in (0, 1), done.output
        return done.stdout, len(self.made)


@pytest.fixture
def many(monkeypatch: pytest.MonkeyPatch) -> Many:
    return Many(monkeypatch)


@pytest.fixture(params=["told by content", "told by stamps"])
def stamps(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Files of these tests have changed only now, when stamps tell nothing; or stamps tell at once."""
    if request.param == "told by stamps":
        monkeypatch.setattr(witness, "FRESH_S", -3600.0)


def replaced(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def touched(path: Path) -> None:
    found = path.stat()
    os.utime(path, ns=(found.st_atime_ns, found.st_mtime_ns + 10**9))


def signed(top: Path, until: str = "never") -> None:
    made = CliRunner().invoke(
        app,
        ["sign", str(top / "one" / "one.json"), "return-fully-wet", "--because", "meant so", "--by", "RM",
         "--on", "Hall", "--until", until],
    )  # fmt: skip
    assert made.exit_code == 0, made.output


CHANGES: dict[str, tuple[int, Callable[[Path], object]]] = {
    "nothing": (0, lambda top: None),
    "a byte of a session": (1, lambda top: replaced(top / "one/one.json", "Lamp one", "Lamp two")),
    "a session that is only touched": (0, lambda top: touched(top / "one/one.json")),
    "a byte of its audio": (1, lambda top: sound(top / "two/audio/voice.wav", 1001)),
    "audio that is only touched": (0, lambda top: touched(top / "two/audio/voice.wav")),
    "audio that goes": (1, lambda top: (top / "two/audio/voice.wav").unlink()),
    "audio that comes": (1, lambda top: sound(top / "three/audio/later.wav", 5)),
    "a print beside": (1, lambda top: sound(top / "one/one mix.wav", 5)),
    "a line of the standard": (3, lambda top: replaced(top / "mixlint-standard.toml", "lamp-house", "limp-house")),
    "a standard that comes nearer": (1, lambda top: (top / "one/mixlint-standard.toml").write_text('name = "near"\n')),
    "a rule": (3, lambda top: replaced(top / "rules/voice-named.toml", "Name it.", "Call it something.")),
    "a rule that comes": (
        3,
        lambda top: (top / "rules/more.toml").write_text(RULE.replace("voice-named", "more")),
    ),
    "a word": (3, lambda top: replaced(top / "words.toml", "lampion", "lantern")),
    "a sign-off": (1, lambda top: signed(top)),
    "a sign-off for the project": (3, lambda top: (top / "mixlint-project.signed.txt").write_text("# none yet\n")),
    "a repository, which bounds where is looked": (3, lambda top: (top / ".git").mkdir()),
    "a text beside": (0, lambda top: (top / "one/notes.pdf").write_text("none")),
    "a session elsewhere": (0, lambda top: (top / "rules/readme.md").write_text("none")),
}


@pytest.mark.slow
@pytest.mark.usefixtures("stamps")
def test_what_counts_makes_a_new_review_and_nothing_else_does(tmp_path: Path, many: Many) -> None:
    for name, (expected, change) in CHANGES.items():
        (top := tmp_path / name).mkdir()
        songs = album(top)
        first, count = many(*songs, "--as", "line")
        assert count == 3
        assert many(*songs, "--as", "line") == (first, 0), name
        change(top)
        again, count = many(*songs, "--as", "line")
        assert count == expected, name
        assert many(*songs, "--as", "line") == (again, 0), name


@pytest.mark.slow
def test_a_set_of_stems_is_its_files(tmp_path: Path, many: Many) -> None:
    for name in ("one", "two"):
        for part in ("Bass", "Vox"):
            (tmp_path / name).mkdir(exist_ok=True)
            sound(tmp_path / name / f"{part}.wav", 1000)
    both = [tmp_path / "one", tmp_path / "two"]
    assert many(*both, "--as", "line")[1] == 2
    changes: tuple[tuple[Callable[[], object], int], ...] = (
        (lambda: None, 0),
        (lambda: sound(tmp_path / "one/Bass.wav", 1001), 1),
        (lambda: sound(tmp_path / "one/Piano.wav", 1000), 1),
        (lambda: (tmp_path / "two/Bass.wav").rename(tmp_path / "two/Low Bass.wav"), 1),
        (lambda: sound(tmp_path / "two/Prints/Hall.wav", 3), 1),
        (lambda: touched(tmp_path / "one/Vox.wav"), 0),
    )
    for change, expected in changes:
        change()
        assert many(*both, "--as", "line")[1] == expected


@pytest.mark.slow
def test_options_and_the_program_count(tmp_path: Path, many: Many, monkeypatch: pytest.MonkeyPatch) -> None:
    songs = album(tmp_path)
    assert many(*songs, "--as", "line")[1] == 3
    for options in (["--no-audio"], ["--hold-on", "look"], ["--only", "nothing-soloed"], ["--everything"],
                    ["--leave-out", "voice-named"], ["--area", "prep"], ["--standard", "pre-bounce"]):  # fmt: skip
        assert many(*songs, "--as", "line", *options)[1] == 3, options
        assert many(*songs, "--as", "line", *options)[1] == 0, options
    report = tmp_path / "report.json"
    many(*songs, "--as", "json", "--out", report)
    assert many(*songs, "--as", "line", "--baseline", report)[1] == 3
    assert many(*songs, "--as", "line", "--baseline", report)[1] == 0
    replaced(report, '"version": "', '"version": "9')
    assert many(*songs, "--as", "line", "--baseline", report)[1] == 3
    monkeypatch.setattr(state, "__version__", "999")
    assert many(*songs, "--as", "line")[1] == 3


@pytest.mark.slow
def test_every_form_is_the_same_with_and_without_kept_reviews(
    tmp_path: Path, many: Many, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first form is reviewed, the others are written of what was kept; then each is kept itself."""
    songs = album(tmp_path)
    signed(tmp_path)
    for form in FORMS:
        with monkeypatch.context() as own:
            own.setenv("MIXLINT_CACHE", "")
            plain, count = many(*songs, "--as", form)
            assert count == 3
        first, count = many(*songs, "--as", form)
        assert first == plain, form
        # drawings are kept with their page alone, and clear rows only where a form counts them
        assert count == (3 if form in ("text", "junit", "html") else 0), form
        assert many(*songs, "--as", form) == (plain, 0), form
    out = tmp_path / "pages"
    many(*songs, "--as", "html", "--out", f"{out}/")
    pages = {one.name: one.read_bytes() for one in out.iterdir()}
    assert many(*songs, "--as", "html", "--out", f"{out}/")[1] == 0
    assert {one.name: one.read_bytes() for one in out.iterdir()} == pages
    assert len(pages) == 4


@pytest.mark.slow
def test_a_sign_off_counts_by_its_days(tmp_path: Path, many: Many, monkeypatch: pytest.MonkeyPatch) -> None:
    """It ends, and before it is about to: on these days a review is made, and on no other."""
    songs = album(tmp_path)
    signed(tmp_path, (date.today() + timedelta(days=20)).isoformat())
    assert many(*songs, "--as", "text")[1] == 3

    class Later(date):
        days = 0

        @classmethod
        def today(cls) -> date:
            return date.fromordinal(date.today().toordinal() + cls.days)

    from mixlint.runs import recall

    for module in (recall, part_review, check, review_run, import_module("mixlint.cli.review")):
        monkeypatch.setattr(module, "date", Later)
    for days, expected in ((1, 0), (12, 0), (13, 1), (14, 0), (20, 0), (21, 1), (400, 0), (0, 1)):
        Later.days = days
        text, count = many(*songs, "--as", "text")
        assert count == expected, days
        assert ("it held until" in text) == (days > 20)


def entries(folder: Path) -> Iterator[Path]:
    return (one for one in folder.rglob("*") if one.suffix in (".part", ".review"))


@pytest.mark.slow
def test_a_damaged_entry_is_never_believed(tmp_path: Path, many: Many) -> None:
    """Bits that flip, an end that is missing, another's entry, one without end, no entry at all."""
    songs = album(tmp_path)
    cache = Path(os.environ["MIXLINT_CACHE"])
    plain, _ = many(*songs, "--as", "line")
    whole = {one: one.read_bytes() for one in entries(cache)}
    assert len(whole) == 6
    chance = random.Random(3)

    def flipped(data: bytes) -> bytes:
        at = chance.randrange(len(data))
        return data[:at] + bytes([data[at] ^ 1 << chance.randrange(8)]) + data[at + 1 :]

    damages: list[Callable[[bytes], bytes]] = [
        *[flipped] * 12,
        lambda data: data[: chance.randrange(len(data))],
        lambda data: b"",
        lambda data: data + b"more",
        lambda data: b"PK" + data,
        lambda data: next(other for other in whole.values() if other != data),
    ]
    for damage in damages:
        for one, data in whole.items():
            one.write_bytes(damage(data))
        assert many(*songs, "--as", "line") == (plain, 3)
    for one in whole:
        with one.open("r+b") as file:
            file.truncate(kept.MOST_ENTRY + (1 << 20))
    assert many(*songs, "--as", "line") == (plain, 3)
    for one in whole:
        one.unlink()
        one.mkdir()
    assert many(*songs, "--as", "line") == (plain, 3)


@pytest.mark.slow
def test_an_entry_that_holds_what_no_part_does_is_none(tmp_path: Path, many: Many) -> None:
    """A checksum that is right makes nothing of an order to a terminal, of a count that is none, or of other rows."""
    songs = album(tmp_path)
    cache = Path(os.environ["MIXLINT_CACHE"])
    plain, _ = many(*songs, "--as", "line")
    (part, *_) = [one for one in entries(cache) if one.suffix == ".part"]
    entry = fetch(part)
    assert entry is not None
    told = entry.plain["told"]
    forged: list[tuple[dict[str, Any], str]] = [
        (entry.plain, entry.text + "\x1b]0;mine\x07"),
        ({**entry.plain, "told": {**told, "outcome": "fine"}}, entry.text),
        ({**entry.plain, "told": {**told, "counts": {**told["counts"], "open": -1}}}, entry.text),
        ({**entry.plain, "told": {**told, "tally": [1, 2]}}, entry.text),
        ({**entry.plain, "told": {**told, "drawn": ["../../x"]}}, entry.text),
        ({**entry.plain, "told": {**told, "balance": {"said": "x"}}}, entry.text),
        ({**entry.plain, "told": {}}, entry.text),
        ({**entry.plain, "notices": [["x"]]}, entry.text),
        ({**entry.plain, "unread": "x"}, entry.text),
    ]
    for says, text in forged:
        keep(part, Entry(entry.leaves, entry.span, says, text))
        for one in entries(cache):
            if one.suffix == ".review":
                one.unlink()
        assert many(*songs, "--as", "line") == (plain, 1)


def test_an_entry_says_what_it_rests_on_or_is_none(tmp_path: Path) -> None:
    (near := tmp_path / "near").mkdir()
    (file := near / "file").write_text("x")
    place = tmp_path / "kept" / f"{'0' * 64}.part"
    with Witness() as seen:
        file.read_text()
        os.path.exists(near / "gone")
        os.listdir(near)
    leaves = seen.leaves(tmp_path / "cache")
    assert leaves is not None
    assert {(one.kind, Path(one.path).name) for one in leaves} >= {("file", "file"), ("seen", "gone")}
    keep(place, Entry(leaves, Span("", "2030-01-01"), {"told": {}}, "text\n"))
    found = fetch(place)
    assert found is not None
    assert (found.leaves, found.span, found.text) == (leaves, Span("", "2030-01-01"), "text\n")
    assert still(place, Looked(date(2029, 12, 31)))
    assert not still(place, Looked(date(2030, 1, 1)))
    for wrong in ((), (leaves[0]._replace(path="relative"),), (leaves[0]._replace(kind="else"),),
                  (leaves[0]._replace(stamp=(1, 2)),)):  # fmt: skip
        keep(place, Entry(wrong, Span(), {}, ""))
        assert fetch(place) is None
    keep(place, Entry(leaves, Span("tomorrow", ""), {}, ""))
    assert fetch(place) is None


def test_what_changes_while_it_is_read_is_not_kept(tmp_path: Path) -> None:
    (file := tmp_path / "file").write_text("x")
    with Witness() as seen:
        file.read_text()
        file.write_text("another length")
    assert seen.leaves(tmp_path) is None
    with Witness() as seen:
        os.listdir(tmp_path)
        (tmp_path / "new.wav").write_text("x")
    assert seen.leaves(tmp_path) is None


def test_what_a_listing_tells_is_names_and_kinds(tmp_path: Path) -> None:
    for name in ("a.wav", "b.signed.txt", "c.html", ".mixlint-0-1-2-3.tmp"):
        (tmp_path / name).write_text("x")
    first = witness.names_in(str(tmp_path))
    for name in ("b.signed.txt", "c.html", ".mixlint-0-1-2-3.tmp"):
        (tmp_path / name).unlink()
    assert witness.names_in(str(tmp_path)) == first
    (tmp_path / "a.wav").unlink()
    (tmp_path / "a.wav").mkdir()
    assert witness.names_in(str(tmp_path)) != first
    assert witness.names_in(str(tmp_path / "gone")) == ""


def test_what_another_program_looks_at_is_not_kept(tmp_path: Path) -> None:
    import subprocess
    import sys

    with Witness() as seen:
        subprocess.run([sys.executable, "-c", ""], check=True)
    assert seen.leaves(tmp_path) is None


def test_the_folder_is_kept_small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept, "MOST_FILES", 3)
    (tmp_path := tmp_path / "reviews").mkdir()
    (tmp_path / "mine.txt").write_text("x")
    for number in range(6):
        (one := tmp_path / f"{number:064x}.part").write_text("x")
        os.utime(one, (number, number))
    kept.tidied(tmp_path)
    assert sorted(one.name[-6:] for one in tmp_path.iterdir()) == ["3.part", "4.part", "5.part", "ne.txt"]
