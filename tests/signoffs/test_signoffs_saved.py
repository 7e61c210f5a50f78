"""Sign-offs and approvals where only what nobody reads has changed: the saved settings of a plug-in."""

from __future__ import annotations

import re
import zipfile
from contextlib import chdir
from pathlib import Path

import pytest
from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.review.findings import Finding, SubjectRef
from mixlint.session import Channel, Insert, SavedSettings, Session
from mixlint.signoffs.line import read_line
from mixlint.signoffs.saved_settings import settings_hash
from tests.importers.documents import document, track
from tests.importers.test_importers_plugin_state import preset

PLUGIN = (
    '<Devices><Vst3Plugin deviceName="Tall Plate" deviceRole="audioFX" loaded="false"><State path="a.vstpreset"/>'
    "</Vst3Plugin></Devices>"
)
CLIP = '<Lanes track="t:Vox"><Clips><Clip time="0" duration="8"><Notes/></Clip></Clips></Lanes>'


def exported(path: Path, component: bytes) -> Path:
    """A packed session with one plug-in, not loaded, and what it processes by."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("project.xml", document(track("Vox", PLUGIN), CLIP))
        archive.writestr("a.vstpreset", preset(component=component))
    return path


def run(*words: str) -> tuple[int, str]:
    done = CliRunner().invoke(app, list(words))
    return done.exit_code, " ".join(done.output.split())


def test_one_changed_byte_of_a_state_is_a_change_of_the_mix(tmp_path: Path) -> None:
    """At version 0.1.0 two such exports were «Nothing changed»."""
    old = exported(tmp_path / "a.dawproject", b"\x01" * 40)
    new = exported(tmp_path / "b.dawproject", b"\x01" * 39 + b"\x02")
    _, text = run("compare", str(old), str(new), "--no-audio")
    assert "Vox settings of Tall Plate changed; what changed cannot be read" in text
    assert "1 change;" in text
    _, text = run("compare", str(old), str(old), "--no-audio")
    assert "Nothing changed." in text


def test_an_approved_mix_is_no_longer_as_approved(tmp_path: Path) -> None:
    path = exported(tmp_path / "song.dawproject", b"warm")
    with chdir(tmp_path):
        run("sign", str(path), "--approve", "--mix", "4", "--by", "RM", "--no-audio")
        _, before = run("review", str(path), "--no-audio", "--as", "line", "--everything")
        exported(path, b"cold")
        _, after = run("review", str(path), "--no-audio", "--as", "line", "--everything")
    assert "settings of Tall Plate changed" not in before
    assert "Vox: settings of Tall Plate changed; what changed cannot be read since mix 4 was approved" in after


def test_a_sign_off_of_a_processor_lapses_with_its_settings(tmp_path: Path) -> None:
    path = exported(tmp_path / "song.dawproject", b"warm")
    with chdir(tmp_path):
        code, said = run("sign", str(path), "inserts-loaded", "--because", "heard at home", "--by", "RM", "--no-audio")
        assert code == 0, said
        line = next(one for one in (tmp_path / "song.signed.txt").read_text().splitlines() if one.startswith("sign"))
        assert len(read_line(line).settings) == 24
        _, before = run("review", str(path), "--no-audio")
        exported(path, b"cold")
        _, after = run("review", str(path), "--no-audio")
    why = "saved settings of Vox: Tall Plate changed since it was signed; what changed cannot be read"
    assert why not in before
    assert why in after


def test_a_line_from_before_settings_were_kept_holds_on(tmp_path: Path) -> None:
    path = exported(tmp_path / "song.dawproject", b"warm")
    with chdir(tmp_path):
        run("sign", str(path), "inserts-loaded", "--because", "heard at home", "--by", "RM", "--no-audio")
        file = tmp_path / "song.signed.txt"
        text = file.read_text()
        file.write_text(re.sub(" settings [0-9a-f]{24}", "", text))
        exported(path, b"cold")
        _, after = run("review", str(path), "--no-audio")
    assert "changed since it was signed" not in after


# --- what rests on what


def session(plate: str, vox: str = "sha256:v") -> Session:
    def insert(name: str, content: str) -> Insert:
        return Insert(name=name, saved=SavedSettings(path="a", present=True, content=content))

    return Session(
        channels=(
            Channel(id="v", name="Vox", kind="track", inserts=(insert("Comp", vox), Insert(name="EQ"))),
            Channel(id="p", name="Plate", kind="return", inserts=(insert("Tall", plate), insert("EQ", "sha256:e"))),
        )
    )


def finding(table: str, subject: str) -> Finding:
    return Finding(
        rule="a-rule", area="tone", grade="look", verdict="flagged", message="x.", fingerprint="x",
        subject=SubjectRef(table=table, id=subject, name="x"),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("table", "subject", "scope", "rests"),
    [
        ("insert", "p:0", "finding", True),
        ("insert", "p:1", "finding", False),  # the other processor changed
        ("insert", "p:1", "part", True),
        ("return", "p", "finding", True),
        ("return", "p", "song", False),
        ("channel", "p", "finding", False),  # a fader rests on no plug-in
        ("insert", "v:0", "finding", False),
    ],
)
def test_which_rows_rest_on_which_settings(table: str, subject: str, scope: str, rests: bool) -> None:
    before, after = (settings_hash(session(one), finding(table, subject), scope) for one in ("sha256:a", "sha256:b"))
    assert (before != after) is rests


def test_a_processor_without_saved_settings_rests_on_none() -> None:
    assert settings_hash(session("sha256:a"), finding("insert", "v:1"), "finding") == ""
