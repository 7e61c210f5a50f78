"""Approvals signed with SSH keys: made and verified by ssh-keygen, with keys that the test makes."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path

import pytest

from mixlint.comparison import Approval
from mixlint.comparison import approval_signature as signature
from mixlint.comparison.approval import approval_text, read_approval
from mixlint.comparison.approval_signature import NAMESPACE, signature_state, signed_with
from mixlint.errors import BrokenFile, InputError, RulebookError
from mixlint.rulebook import load_standard
from mixlint.session import Session, Unknown
from tests.teamwork.repository import Person, export, song

KEYGEN = shutil.which("ssh-keygen")
with_tool = pytest.mark.skipif(KEYGEN is None, reason="ssh-keygen is not installed (Debian: openssh-client)")


def key(path: Path) -> Path:
    """A new key without a passphrase."""
    subprocess.run([str(KEYGEN), "-q", "-t", "ed25519", "-N", "", "-C", "", "-f", str(path)], check=True, timeout=60)
    return path


def signers(path: Path, who: str, own: Path, options: str = f'namespaces="{NAMESPACE}"') -> Path:
    public = own.with_name(own.name + ".pub").read_text("ascii")
    path.write_text(f"{who} {options} {public}", encoding="ascii")
    return path


def approval(by: str = "RM", on: str = "2026-03-14") -> Approval:
    return Approval(mix=4, by=by, on=on, standard="house", session=Session(title="Tarn \u202eSong"))


@with_tool
def test_states(tmp_path: Path) -> None:
    """Allowed only: this approval, this namespace, this person, this key."""
    own, other = key(tmp_path / "own"), key(tmp_path / "other")
    allowed = signers(tmp_path / "signers", "RM", own)
    made = signed_with(approval(), own)
    path = tmp_path / "song.approved.json"
    path.write_text(approval_text(made), encoding="utf-8")
    assert signature_state(read_approval(path), allowed) == "allowed"
    assert signature_state(approval(), allowed) == "none"
    assert signature_state(signed_with(approval(), other), allowed) == "not-allowed"
    assert signature_state(signed_with(approval("TK"), own), allowed) == "not-allowed"
    assert signature_state(made.model_copy(update={"mix": 5}), allowed) == "bad"
    assert signature_state(made.model_copy(update={"signature": "x" * 70_000}), allowed) == "bad"
    ended = signers(tmp_path / "ended", "RM", own, 'valid-before="20260401"')
    assert signature_state(made, ended) == "allowed"  # it held on the day
    assert signature_state(signed_with(approval(on="2026-04-02"), own), ended) == "not-allowed"
    assert signature_state(made, tmp_path / "nowhere") == "not-allowed"


@with_tool
def test_another_reads_the_signature_without_mixlint(tmp_path: Path) -> None:
    """ssh-keygen(1) by hand over the one line that the handbook names; a namespace of another use is refused."""
    own = key(tmp_path / "own")
    allowed = signers(tmp_path / "signers", "RM", own)
    body = json.loads(approval_text(signed_with(approval(), own)))
    (tmp_path / "sig").write_text(body["signature"], encoding="ascii")
    line = f"{body['format']} {body['seal']}\n".encode()

    def verified(namespace: str) -> int:
        words = ["-Y", "verify", "-f", str(allowed), "-I", "RM", "-n", namespace, "-s", str(tmp_path / "sig")]
        return subprocess.run(
            [str(KEYGEN), *words], input=line, capture_output=True, check=False, timeout=60
        ).returncode

    assert verified(NAMESPACE) == 0
    assert verified("git") != 0


def test_without_the_tool_it_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And one in the folder that mixlint is started in is never run."""
    fake = tmp_path / "ssh-keygen"
    fake.write_text("#!/bin/sh\nexit 0\n", encoding="ascii")
    fake.chmod(0o755)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PATH", os.pathsep.join([".", ""]))
    state = signature_state(approval().model_copy(update={"signature": "x"}), tmp_path / "signers")
    assert isinstance(state, Unknown)
    assert "no ssh-keygen" in state.unknown
    with pytest.raises(InputError, match="Install OpenSSH"):
        signed_with(approval(), tmp_path / "key")


@with_tool
def test_a_key_that_is_none_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such key"):
        signed_with(approval(), tmp_path / "key")
    (tmp_path / "key").write_text("no key", encoding="ascii")
    (tmp_path / "key").chmod(0o600)
    with pytest.raises(InputError, match="ssh-keygen did not sign"):
        signed_with(approval(), tmp_path / "key")
    assert signature.STATES == ("allowed", "not-allowed", "bad", "none")


@pytest.mark.slow
@with_tool
def test_a_standard_that_lists_signers_holds_what_is_not_signed(tmp_path: Path) -> None:
    desk = Person("ria", tmp_path)
    export(tmp_path / "one.dawproject", song())
    signers(tmp_path / "signers.txt", "RM", key(tmp_path / "own"))
    (tmp_path / "mixlint-standard.toml").write_text(
        'name = "house"\n[approval]\nsigners = "signers.txt"\n', encoding="utf-8"
    )

    def verdict() -> str:
        said = desk.mixlint("review", "one.dawproject", "--no-audio", "--as", "json", "--everything").stdout
        rows = json.loads(said)["sessions"][0]["findings"]
        return next(row["verdict"] for row in rows if row["rule"] == "approval-signed")

    approve = ("sign", "one.dawproject", "--approve", "--mix", "1", "--by", "RM", "--no-audio")
    assert verdict() == "idle"
    assert "approve again with --key" in desk.mixlint(*approve).stdout
    assert verdict() == "flagged"
    assert desk.mixlint(*approve, "--key", "own").returncode == 0
    assert verdict() == "clear"


@pytest.mark.parametrize("written", ["../signers.txt", "/etc/hosts", "nowhere.txt", "folder"])
def test_the_list_of_signers_lies_with_the_standard(written: str, tmp_path: Path) -> None:
    (tmp_path / "signers.txt").touch()
    (tmp_path / "house" / "folder").mkdir(parents=True)
    standard = tmp_path / "house" / "mixlint-standard.toml"
    standard.write_text(f'name = "house"\n[approval]\nsigners = "{written}"\n', encoding="utf-8")
    with pytest.raises(RulebookError, match=r"approval\.signers"):
        load_standard(standard)


def test_a_key_that_stands_twice_is_refused(tmp_path: Path) -> None:
    """Readers show the first, JSON (RFC 8259, section 4) takes whichever the program does."""
    path = tmp_path / "song.approved.json"
    path.write_text(approval_text(approval()).replace('"by": "RM"', '"by": "XX",\n "by": "RM"'), encoding="utf-8")
    with pytest.raises(BrokenFile, match="by stands twice"):
        read_approval(path)


def test_no_unseen_character_is_written(tmp_path: Path) -> None:
    text = approval_text(approval())
    assert r"Tarn \u202eSong" in text
    path = tmp_path / "song.approved.json"
    path.write_text(text, encoding="utf-8")
    assert read_approval(path).session.title == "Tarn \u202eSong"
