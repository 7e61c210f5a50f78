"""Sessions in object storage, against a local server of the S3 protocol (moto)."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from mixlint.errors import InputError, MixlintError, RefusedFile
from mixlint.runs import paths, storage
from mixlint.runs.paths import address_of
from mixlint.runs.storage import checked, here
from tests.cli.cli_sessions import half_wet, session_body
from tests.cluster.real import ROOT

SECRET = "sesame-and-lilies"


@pytest.mark.parametrize(
    ("typed", "address"),
    [
        ("s3:/bucket/song.json", "s3://bucket/song.json"),
        ("S3://bucket/song.json", "s3://bucket/song.json"),
        ("song.json", None),
        ("/srv/s3:/song.json", None),
        ("song:/x", "song://x"),
    ],
)
def test_an_address_is_known_though_a_path_loses_a_slash(typed: str, address: str | None) -> None:
    assert address_of(typed) == address
    assert address_of(Path(typed)) == address


def test_a_folder_of_that_name_is_a_path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "s3:" / "bucket").mkdir(parents=True)
    monkeypatch.chdir(tmp_path)
    assert address_of("s3:/bucket") is None


@pytest.mark.parametrize(
    "address",
    [
        "file:///etc/passwd", "local:///etc", "memory://a", "http://a/b", "https://a/b", "ssh://a/b", "github://a/b",
        "reference://a", "simplecache::s3://bucket/a", "zip://a::s3://bucket/a.zip", "s3://bucket/a::file:///etc",
        f"s3://me:{SECRET}@bucket/a", "s3://me@bucket/a", f"az://me:{SECRET}@bucket/a",
    ],
)  # fmt: skip
def test_what_is_no_plain_address_of_object_storage_is_refused(address: str) -> None:
    with pytest.raises(RefusedFile) as caught:
        checked(address)
    assert SECRET not in str(caught.value)


def test_nothing_is_written_there(capsys: pytest.CaptureFixture[str]) -> None:
    from mixlint.cli.app import app

    with pytest.raises(SystemExit) as ended:
        app(
            ["sign", "s3://bucket/song.json", "nothing-soloed", "--because", "agreed", "--by", "RM"],
            prog_name="mixlint",
        )
    assert ended.value.code == 2
    told = " ".join(capsys.readouterr().err.split())
    assert "nothing is written there" in told


# --- with a server

pytest.importorskip("s3fs", reason="the extra storage is not installed")
moto = pytest.importorskip("moto.server", reason="moto, a local server of the S3 protocol, is not installed")


@pytest.fixture(scope="module")
def server() -> Iterator[str]:
    serves = moto.ThreadedMotoServer(ip_address="127.0.0.1", port=0)
    serves.start()
    host, port = serves.get_host_and_port()
    yield f"http://{host}:{port}"
    serves.stop()


@pytest.fixture
def bucket(server: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Any]:
    """An empty bucket called ``archive``, and settings for fsspec where it looks for them."""
    import boto3
    import fsspec

    for name, value in {
        "AWS_ACCESS_KEY_ID": "lamp",
        "AWS_SECRET_ACCESS_KEY": SECRET,
        "AWS_DEFAULT_REGION": "us-east-1",
        "AWS_ENDPOINT_URL": server,
        "MIXLINT_CACHE": str(tmp_path / "cache"),
    }.items():
        monkeypatch.setenv(name, value)
    made = boto3.resource("s3").Bucket("archive")
    made.create()
    yield made
    made.objects.all().delete()
    made.delete()
    fsspec.get_filesystem_class("s3").clear_instance_cache()
    paths._STANDS_FOR.clear()


def put(bucket: Any, name: str, **changes: Any) -> None:
    body = session_body(**changes)
    bucket.put_object(Key=name, Body=json.dumps(half_wet(body) if "1" in name else body).encode())


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore")
def test_what_lies_below_a_prefix_is_fetched_and_nothing_else(bucket: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("songs/00.json", "songs/deep/01.json", "songs-of-others/02.json", "03.json"):
        put(bucket, name)
    tree = here(Path("s3://archive/songs/"))
    names = sorted(one.relative_to(tree).as_posix() for one in tree.rglob("*") if one.is_file())
    assert names == [".git", "00.json", "deep/01.json"]
    assert paths.shown(tree / "deep" / "01.json") == "s3://archive/songs/deep/01.json"
    assert paths.as_named(f"{tree}/00.json: so") == "s3://archive/songs/00.json: so"

    fetched: list[str] = []
    fetch = storage._fetch
    monkeypatch.setattr(
        storage, "_fetch", lambda files, one, place: (fetched.append(one.key), fetch(files, one, place))
    )
    assert here(Path("s3:/archive/songs")) == tree
    assert fetched == []
    put(bucket, "songs/00.json", title="Lamp Song, mixed again")  # changed
    bucket.Object("songs/deep/01.json").delete()  # gone
    here(Path("s3://archive/songs"))
    assert fetched == ["archive/songs/00.json"]
    assert "mixed again" in (tree / "00.json").read_text()
    assert not (tree / "deep").exists()
    # One that is named is fetched with what lies beside it.
    assert here(Path("s3://archive/songs/00.json")) == tree / "00.json"


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore")
def test_what_changes_or_goes_while_it_is_fetched(bucket: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    put(bucket, "songs/00.json")
    put(bucket, "songs/02.json")
    fetch, rounds = storage._fetch, []

    def meanwhile(files: Any, one: Any, place: Path) -> None:
        if not rounds:
            bucket.Object("songs/02.json").delete()
            put(bucket, "songs/00.json", title="Another")
        rounds.append(one.key)
        fetch(files, one, place)

    monkeypatch.setattr(storage, "_fetch", meanwhile)
    tree = here(Path("s3://archive/songs"))
    assert "Another" in (tree / "00.json").read_text()
    assert not (tree / "02.json").exists()

    def always(files: Any, one: Any, place: Path) -> None:
        fetch(files, one, place)
        put(bucket, "songs/00.json", title=f"Number {len(rounds)}")
        rounds.append(one.key)

    monkeypatch.setattr(storage, "_fetch", always)
    put(bucket, "songs/00.json", title="Begun")
    with pytest.raises(InputError, match="it changes while it is fetched"):
        here(Path("s3://archive/songs"))


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore")
def test_what_cannot_be_fetched_is_told_without_secrets(bucket: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    for address, told in (("s3://archive/none/", "nothing lies there"), ("s3://nowhere/songs", "nothing lies there")):
        with pytest.raises(InputError, match=told) as caught:
            here(Path(address))
        assert SECRET not in str(caught.value)
    bucket.put_object(Key="songs/../../up.json", Body=b"{}")
    with pytest.raises(RefusedFile, match="no path"):
        here(Path("s3://archive/songs"))
    with monkeypatch.context() as patch:
        patch.setattr(storage, "MOST_OBJECTS", 0)
        with pytest.raises(RefusedFile, match="more than 0 objects"):
            here(Path("s3://archive/songs"))
    with monkeypatch.context() as patch:
        patch.setitem(sys.modules, "fsspec", None)
        with pytest.raises(MixlintError, match="not installed"):
            here(Path("s3://archive/songs"))


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore")
def test_a_review_says_what_it_says_of_the_same_files_here(bucket: Any, tmp_path: Path) -> None:
    """But for the address in the place of the path, and the lines to sign, since nothing is written there."""
    (tmp_path / "songs").mkdir()
    put(bucket, "songs/00.json")
    put(bucket, "songs/01.json")
    bucket.put_object(Key="songs/02.json", Body=b'{"format": "mixlint-session/1", ')
    for one in bucket.objects.all():
        (tmp_path / one.key).write_bytes(one.get()["Body"].read())

    def review(place: str) -> subprocess.CompletedProcess[bytes]:
        return subprocess.run(
            [sys.executable, "-m", "mixlint", "review", place, "--no-audio", "--as", "json"],
            cwd=tmp_path, capture_output=True, check=False, timeout=300, env={**os.environ, "PYTHONPATH": str(ROOT)},
        )  # fmt: skip

    there, beside = review("s3://archive/songs"), review("songs")
    assert there.returncode == beside.returncode == 2
    told = there.stdout.replace(b"s3://archive/songs/", b"songs/")
    assert [one["source"] for one in json.loads(there.stdout)["sessions"]] == [
        "s3://archive/songs/00.json", "s3://archive/songs/01.json",
    ]  # fmt: skip
    assert json.loads(told) == json.loads(beside.stdout)
    assert there.stderr.replace(b"s3://archive/songs/", b"songs/") == beside.stderr
    for secret in (SECRET.encode(), str(tmp_path / "cache").encode()):
        assert secret not in there.stdout + there.stderr
