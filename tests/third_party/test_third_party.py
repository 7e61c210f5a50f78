"""Packages that add to mixlint: they work without a change to it, and one that fails is named and hinders nothing."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import wave
from pathlib import Path
from random import Random
from typing import Any

import pytest

import mixlint
from mixlint import extensions
from mixlint.session import Channel, Clip, MediaFile, Session
from tests.third_party.installing import QUAYSIDE, installed, written

TOP = Path(__file__).resolve().parents[2]
ROPE = """quay list
title | Rope Song
track | Lead Vocal | Mix | -3 | 60 | berth B4
track | Bollard | Mix | -6 | 60
return | Plate | Mix
send | Lead Vocal | Plate | -12
master | Mix
"""
SAYS = "MIXLINT_INTERFACE = 1\n"


def run(*command: object, packages: Path, at: Path) -> subprocess.CompletedProcess[str]:
    """Python in a folder, with packages installed: nothing of a user's cache, nothing of this folder but mixlint."""
    env = {**os.environ, "PYTHONPATH": os.pathsep.join([str(TOP), str(packages)]), "MIXLINT_CACHE": ""}
    return subprocess.run(
        [sys.executable, *map(str, command)], cwd=at, env=env, capture_output=True, text=True, check=False, timeout=120
    )


def asked(code: str, *, packages: Path, at: Path) -> Any:
    """What a program in Python prints, as JSON."""
    done = run("-c", f"import json, mixlint\nfrom mixlint import extensions\n{code}", packages=packages, at=at)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


@pytest.fixture(scope="module")
def quay(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the example package is installed."""
    return installed(QUAYSIDE, tmp_path_factory.mktemp("quay"))


@pytest.fixture
def song(tmp_path: Path) -> Path:
    """A session in the package's own form."""
    folder = tmp_path / "songs"
    folder.mkdir()
    (folder / "rope.quay").write_text(ROPE, encoding="utf-8")
    (folder / "lyrics.txt").write_text(
        "of ropes and quays\n", encoding="utf-8"
    )  # .txt may be a quay list, this is none
    return folder / "rope.quay"


@pytest.mark.slow
def test_form_fact_rule_and_report_work_from_the_command(quay: Path, song: Path) -> None:
    """The form is read, also where a folder is searched; the rule holds where its standard is asked for."""
    done = run("-m", "mixlint", "review", ".", "--standard", "quayside", "--as", "json", packages=quay, at=song.parent)
    (made,) = json.loads(done.stdout)["sessions"]
    assert (done.returncode, done.stderr) == (0, "")
    assert (made["importer"], made["standard"], made["notes"]) == ("quay-list", "quayside", [])
    (row,) = [one for one in made["findings"] if one["rule"] == "berth-noted"]
    assert (row["verdict"], row["subject"]["name"], row["where"]) == ("flagged", "Bollard", "line 4")
    assert row["evidence"][0]["fact"] == "berths_named"
    assert "A quay list holds no names of files." in made["assumptions"]
    stick = run("-m", "mixlint", "review", song, "--as", "tally-stick", packages=quay, at=song.parent)
    assert (stick.returncode, stick.stdout.split(":")[0]) == (0, "Rope Song")


@pytest.mark.slow
def test_they_stand_where_mixlint_lists_its_own(quay: Path, song: Path) -> None:
    """The help, the vocabulary, the rule's page, the proof by examples; no output is written over such a session."""

    def said(*command: object) -> tuple[int, str]:
        done = run("-m", "mixlint", *command, packages=quay, at=song.parent)
        return done.returncode, " ".join((done.stdout + done.stderr).split())

    assert "a quay list" in said("--help")[1]
    assert "tally-stick: a notch for each flagged row." in said("review", "--help")[1]
    assert "berths_named number, declared, of the package mixlint-quayside" in said("facts", "channel")[1]
    assert "How many berths its comment names." in said("rules", "berth-noted", "--standard", "quayside")[1]
    assert "berth-noted: 2 examples kept" in said("rules", "--standard", "quayside", "--prove")[1]
    assert "percussion" in said("sheet", song, "--standard", "quayside")[1]  # a word of the package's own
    assert "percussion" not in said("sheet", song)[1]
    status, text = said("facts", "--out", song)
    assert status == 2
    assert "would overwrite a session" in text


@pytest.mark.slow
def test_they_work_from_python(quay: Path, song: Path) -> None:
    found = asked(
        f"""
path = {str(song)!r}
review = mixlint.check(path, standard="quayside", only=["berth-noted"])
rows = mixlint.ask(path, "channel", "berths_named")
print(json.dumps([
    mixlint.read(path).source.importer,
    [(one.rule, one.subject.name) for one in review.findings],
    [(row.name, row.value("berths_named")) for row in rows],
    mixlint.report(review, "tally-stick"),
    list(review.notes),
]))
""",
        packages=quay,
        at=song.parent,
    )
    assert found == [
        "quay-list",
        [["berth-noted", "Bollard"]],
        [["Lead Vocal", 1], ["Bollard", 0], ["Plate", 0], ["Mix", 0]],
        "Rope Song: | (look)\n",
        [],
    ]


@pytest.mark.slow
def test_a_house_takes_a_package_by_name(quay: Path, song: Path) -> None:
    """What is installed changes no checklist by itself; a standard that names what is not installed is at fault."""
    house = song.parent / "mixlint-standard.toml"
    code = f"print(json.dumps('berth-noted' in mixlint.load_standard(None, {str(song)!r}).rules))"
    assert asked(code, packages=quay, at=song.parent) is False
    house.write_text('name = "pier"\npackages = ["quayside"]\n', encoding="utf-8")
    assert asked(code, packages=quay, at=song.parent) is True
    house.write_text('name = "pier"\npackages = ["quaysid"]\n', encoding="utf-8")
    done = run("-m", "mixlint", "review", song, packages=quay, at=song.parent)
    assert done.returncode == 2
    assert "packages: no installed package brings rules called quaysid (did you mean quayside?)" in done.stderr


@pytest.mark.slow
def test_nothing_is_looked_for_where_mixlint_knows_all(quay: Path, tmp_path: Path) -> None:
    """A session in a form of its own under its own checklist: the packages, and what finds them, stay unread."""
    path = tmp_path / "song.json"
    path.write_text('{"format": "mixlint-session/1"}', encoding="utf-8")
    code = f"""
import contextlib, io, sys
from mixlint.cli import main
sys.argv = ["mixlint", "review", {str(path)!r}]
with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
    main()
print(json.dumps([extensions._packages.cache_info().misses, "mixlint_quayside" in sys.modules]))
"""
    assert asked(code, packages=quay, at=tmp_path) == [0, False]


def test_the_folder_python_was_started_in_is_passed_over(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Python puts it first, or the folder of the script; what else is on its path is where packages are installed."""
    there = str(tmp_path / "installed")
    monkeypatch.chdir(tmp_path)
    for own in (str(tmp_path), "", "."):
        monkeypatch.setattr(sys, "path", [own, there, "beside"])
        assert extensions._places() == [there]
    monkeypatch.setattr(sys, "path", [there])
    assert extensions._places() == [there]


LEAKS = {
    "leaky_hull": "raise OSError('the hull leaks')\n",
    "leaky": f"""{SAYS}
from pathlib import Path
from mixlint.facts import Facts, FactValue, Subject, Table
from mixlint.importers import Importer
from mixlint.reports.forms import ReviewForm
DRIP = ReviewForm(name="drip", module="leaky_drip", says="drops")
SNIFF = lambda head: 1 / 0
PUDDLE = Importer("puddle", ("a puddle",), "leaky_puddle", suffixes=(".puddle",), sniff=SNIFF)
FACTS = Facts("channel")
@FACTS.fact("number", "How deep it lies.")
def depth(row):
    return 1 / (len(row.item.name) - len("Bollard"))
@FACTS.fact("word", "What colour it is.", words=("red", "blue"))
def colour(row):
    return "green"
@FACTS.fact("number", "How long it floats.")
def floats(row):
    return FactValue(1.0, "guessed")
@FACTS.fact("switch", "It leaves.")
def leaves(row):
    raise SystemExit(0)
TIDES = Table("tide", "Tides.", lambda context: [(Subject("tide", 1, "Low"), None)])
""",
    "leaky_drip": "def write(output):\n    return output.puddle\n",
    "leaky_puddle": "LOSES = CARRIES = ()\ndef read(container):\n    return container.depth\n",
}
ENTRIES = {
    "mixlint.importers": {"hull": "leaky_hull:FORM", "puddle": "leaky:PUDDLE"},
    "mixlint.reports": {"drip": "leaky:DRIP", "splash": "leaky:NOTHING"},
    "mixlint.facts": {"depths": "leaky:FACTS", "tides": "leaky:TIDES"},
    "mixlint.rules": {"bilge": "leaky:SAYS"},
}


@pytest.fixture(scope="module")
def beside_a_leak(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The example package, and one beside it that fails wherever it can."""
    target = installed(QUAYSIDE, tmp_path_factory.mktemp("leaky"))
    return written(target, "mixlint-leaky", LEAKS, ENTRIES)


@pytest.mark.slow
def test_a_package_that_fails_is_named_and_the_rest_works(beside_a_leak: Path, quay: Path, song: Path) -> None:
    """On stderr and in the review's notes; the findings and the exit status are as without it."""
    command = ("-m", "mixlint", "review", song, "--standard", "quayside", "--as", "json")
    sound, leaky = (run(*command, packages=one, at=song.parent) for one in (quay, beside_a_leak))
    before, after = (json.loads(one.stdout)["sessions"][0] for one in (sound, leaky))
    assert (leaky.returncode, after["findings"]) == (sound.returncode, before["findings"])
    origin = "package mixlint-leaky 0.1, entry point hull of mixlint.importers"
    hull = f"{origin}: it cannot be imported: OSError: the hull leaks"
    assert f"mixlint: {hull}. All else works without it." in leaky.stderr
    assert hull in after["notes"]
    text = run("-m", "mixlint", "review", song, "--quiet", packages=beside_a_leak, at=song.parent)
    assert text.returncode == 0
    assert "OSError: the hull leaks" in " ".join(text.stdout.split())


@pytest.mark.slow
def test_what_was_asked_of_a_package_that_fails_cannot_be_had(beside_a_leak: Path, song: Path) -> None:
    """A form of a report, a file of its form, rules: exit status 2, the package and the entry point named."""
    puddle = song.with_name("rain.puddle")
    puddle.write_text("wet", encoding="utf-8")
    for command, said in (
        (("review", song, "--as", "drip"), "entry point drip of mixlint.reports: writing failed: AttributeError"),
        (("review", song, "--as", "splash"), "entry point splash of mixlint.reports: it cannot be imported"),
        (("sheet", puddle), "entry point puddle of mixlint.importers: reading rain.puddle failed: AttributeError"),
    ):
        done = run("-m", "mixlint", *command, packages=beside_a_leak, at=song.parent)
        assert done.returncode == 2
        assert "package mixlint-leaky 0.1, " + said in done.stderr
        assert "Traceback" not in done.stderr


@pytest.mark.slow
def test_a_fact_that_fails_is_not_known(beside_a_leak: Path, song: Path) -> None:
    """It says so with the package's name; so does one that gives what it does not declare. Others are answered."""
    code = f"""
path = {str(song)!r}
rows = mixlint.ask(path, "channel", "depth", "colour", "floats", "leaves", "berths_named", audio=False)
told = [rows[0][one].unknown for one in ("colour", "floats", "leaves")]
tides = [len(mixlint.ask(path, "tide", audio=False)), str(extensions.faults()[-1])]
print(json.dumps([rows[0].value("depth"), rows[1].value("depth"), rows[1]["depth"].unknown, told, tides,
                  rows[0].value("berths_named")]))
"""
    fine, failed, why, (green, guessed, left), (tides, odd), berths = asked(
        code, packages=beside_a_leak, at=song.parent
    )
    assert (fine, failed, berths) == (1 / 3, None, 1)
    called = "package mixlint-leaky 0.1, entry point depths of mixlint.facts: the fact channel."
    assert why == f"{called}depth failed: ZeroDivisionError: division by zero"
    assert green == f"{called}colour failed: TypeError: 'green' is no word that it declares"
    assert "'guessed'" in guessed
    assert left == f"{called}leaves failed: SystemExit: 0"
    assert (tides, "entry point tides of mixlint.facts: the table tide failed" in odd) == (0, True)


CLASHES = f"""{SAYS}
from pathlib import Path
from dataclasses import replace
from mixlint.analysis.settings import Setting
from mixlint.facts import Facts, Table
from mixlint.importers import Importer
from mixlint.reports.forms import ReviewForm
form = Importer(name="raft", titles=("a raft",), module="raft", suffixes=(".raft",))
named, suffixed, shouted, untold = (replace(form, name="stems"), replace(form, suffixes=(".dawproject",)),
    replace(form, suffixes=(".RAFT",)), replace(form, suffixes=()))
untitled = replace(form, titles=())
json_form = ReviewForm("json", "raft", "a raft")
mute_form = ReviewForm("raft", "raft", " ")
facts, lost, muttered = Facts("channel"), Facts("chanel"), Facts("channel")
@facts.fact("text", "Its name.")
def name(row): return ""
@lost.fact("text", "Its name.")
def raft(row): return ""
@muttered.fact("text", "its raft")
def raft(row): return ""
again = Setting("counterparts.least_together", 1.0, "%", "Rafts.")
set_again = Table("raft", "Rafts.", lambda context: [], settings=(again,))
table = Table("send", "Rafts.", lambda context: [])
nowhere, odd, standard = Path("/nowhere/at/all"), Path(__file__).parent / "odd", Path(__file__).parent / "taken"
"""


@pytest.mark.slow
def test_what_an_installer_left_broken_is_told(tmp_path: Path) -> None:
    """A list of entry points that is none, and one of a package that is not there; the sound package works."""
    target = installed(QUAYSIDE, tmp_path / "target")
    written(target, "torn", {}, {"mixlint.facts": {"torn": "nowhere.at.all:FACTS", "odd": "no module"}})
    broken = written(target, "burst", {}, {"mixlint.facts": {}}) / "burst-0.1.dist-info" / "entry_points.txt"
    broken.write_bytes(b"[mixlint.facts]\n\xff\n")
    code = """
import os
os.environ["PYDANTIC_DISABLE_PLUGINS"] = "__all__"  # as the command does: pydantic gives up over such a file
from mixlint.facts.installed import vocabulary
print(json.dumps(["berths_named" in vocabulary()["channel"].facts, *map(str, extensions.faults())]))
"""
    works, *faults = asked(code, packages=target, at=tmp_path)
    assert works
    assert [one.partition(": ")[0] for one in faults] == [
        "package ? ?, entry point ? of entry_points.txt",
        "package torn 0.1, entry point odd of mixlint.facts",
        "package torn 0.1, entry point torn of mixlint.facts",
    ]


@pytest.mark.slow
def test_clashes_and_misfits_are_refused_each_with_its_reason(tmp_path: Path) -> None:
    """Names, suffixes, tables, facts, settings and standards that are there already; what is no such thing at all."""
    said = {
        ("importers", "named"): "mixlint itself has a form called stems",
        ("importers", "suffixed"): "files ending in .dawproject are of a form of mixlint itself",
        ("importers", "shouted"): "'.RAFT' is no suffix: a full stop and small letters, such as .list",
        (
            "importers",
            "untold",
        ): "nothing tells a file of the form raft: it has neither a suffix of its own nor a sniff",
        ("importers", "untitled"): "the form raft has no title for a user",
        ("importers", "json_form"): "it leads to ReviewForm, and has to lead to Importer",
        ("reports", "json_form"): "mixlint itself has a form called json",
        ("reports", "mute_form"): "the form raft does not say what it is",
        ("facts", "facts"): "mixlint itself has a fact channel.name",
        ("facts", "lost"): "there is no table 'chanel' in mixlint to add facts to",
        ("facts", "muttered"): "the fact channel.raft does not say in a sentence what it means",
        ("facts", "set_again"): "there is another setting called counterparts.least_together",
        ("facts", "table"): "mixlint itself has a table called send",
        ("rules", "nowhere"): "there is no folder /nowhere/at/all",
        ("rules", "odd"): "its folder flotsam is no area of the checklist",
        ("rules", "standard"): "mixlint itself has a standard called pre-bounce",
    }
    entries: dict[str, dict[str, str]] = {}
    for group, name in said:
        entries.setdefault(f"mixlint.{group}", {})[name] = f"raft_clashes:{name}"
    entries["mixlint.reports"] |= {"silent": "raft_silent:FORM", "later": "raft_later:FORM"}
    modules = {"raft_clashes": CLASHES, "raft_silent": "FORM = 1\n", "raft_later": "MIXLINT_INTERFACE = 2\nFORM = 1\n"}
    target = written(tmp_path / "raft", "raft", modules, entries)
    for file in ("odd/flotsam/a.toml", "taken/standards/pre-bounce.toml"):
        (target / file).parent.mkdir(parents=True)
        (target / file).write_text("", encoding="utf-8")
    said["reports", "silent"] = (
        "raft_silent does not say for which version of the interface it is: MIXLINT_INTERFACE = 1"
    )
    said["reports", "later"] = "it is written for version 2 of the interface, and this mixlint has 1"
    assert _faults(target, tmp_path) == {f"mixlint.{group} {name}": what for (group, name), what in said.items()}


@pytest.mark.slow
def test_two_packages_that_claim_one_name_are_both_refused(tmp_path: Path) -> None:
    """Which of them is meant is nobody's to guess; the others of each work on."""
    code = f"""{SAYS}
from mixlint.facts import Facts
from mixlint.importers import Importer
FORM = Importer(name="raft", titles=("a raft",), module="raft", suffixes=(".raft",))
FACTS = Facts("channel")
@FACTS.fact("text", "Its raft.")
def raft(row): return ""
"""
    target = tmp_path / "both"
    for name in ("first", "other"):
        entries = {"mixlint.importers": {name: f"{name}:FORM"}, "mixlint.facts": {name: f"{name}:FACTS"}}
        written(target, name, {name: code}, entries)
    what = "take one of them away"
    assert _faults(target, tmp_path) == {
        **{
            f"mixlint.importers {one}": f"two installed packages have a form called raft; {what}"
            for one in ("first", "other")
        },
        **{f"mixlint.facts {one}": f"two installed packages have channel.raft; {what}" for one in ("first", "other")},
    }


def _faults(packages: Path, at: Path) -> dict[str, str]:
    code = """
from mixlint.facts.installed import vocabulary
from mixlint.importers.installed import installed_importers
from mixlint.reports.installed import installed_forms
from mixlint.rulebook.installed import rule_folders
vocabulary(), installed_importers(), installed_forms(), rule_folders()
print(json.dumps([[one.origin.group, one.origin.name, one.what] for one in extensions.faults()]))
"""
    return {f"{group} {name}": what for group, name, what in asked(code, packages=packages, at=at)}


@pytest.mark.slow
@pytest.mark.parametrize("started", ["module", "script"])
def test_what_lies_beside_a_session_is_never_run(started: str, tmp_path: Path) -> None:
    """Neither as a package nor in the place of a module, where Python is started there or runs a script from there."""
    folder = tmp_path / "stranger"
    trap = "from pathlib import Path\nPath(__file__).with_name('sprung').touch()\nFORM = None\n"
    groups = ("mixlint.importers", "mixlint.reports", "pydantic")  # pydantic looks for additions of its own
    entries = {group: {"trap": "trap:FORM"} for group in groups}
    written(folder, "trap", {"trap": SAYS + trap}, entries)
    (folder / "song.odd").write_text("odd", encoding="utf-8")
    if started == "module":
        (folder / "jinja2.py").write_text(trap, encoding="utf-8")
        (folder / "song.json").write_text('{"format": "mixlint-session/1"}', encoding="utf-8")
        html = run("-m", "mixlint", "review", "song.json", "--as", "html", packages=tmp_path / "none", at=folder)
        assert (html.returncode, html.stdout[:9]) == (0, "<!DOCTYPE")
        done = run("-m", "mixlint", "review", "song.odd", packages=tmp_path / "none", at=folder)
    else:
        (folder / "mine.py").write_text("from mixlint.cli import main\nmain()\n", encoding="utf-8")
        done = run(folder / "mine.py", "review", folder / "song.odd", packages=tmp_path / "none", at=tmp_path)
    assert done.returncode == 2
    assert "this kind of file is not read" in done.stderr
    assert "trap" not in done.stderr
    assert not (folder / "sprung").exists()


@pytest.mark.slow
def test_what_lies_beside_a_session_is_not_run_where_audio_is_measured(tmp_path: Path) -> None:
    """So much audio that other processes measure it, which Python starts in the folder they are started from."""
    seconds, rate = 130, 8000  # above WORTH_WORKERS_S of mixlint.media.library
    with wave.open(str(tmp_path / "oboe.wav"), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes(Random(1).randbytes(2 * rate * seconds))
    part = Channel(
        id="a", name="Oboe", kind="track", output="m", clips=(Clip(start_s=0.0, end_s=float(seconds), file="a"),)
    )
    mix = Channel(id="m", name="Mix", kind="master", output=None)
    session = Session(channels=(part, mix), media=(MediaFile(id="a", path="oboe.wav"),))
    mixlint.write(session, tmp_path / "song.json")
    trap = "open('sprung', 'w')\n"
    (tmp_path / "multiprocessing.py").write_text(trap, encoding="utf-8")
    command = ("-m", "mixlint", "facts", "media", "peak_dbfs", "--of", "song.json", "--as", "json")
    done = run(*command, packages=tmp_path / "none", at=tmp_path)
    assert json.loads(done.stdout)["rows"][0]["facts"][0]["known"] == "measured", done.stderr
    assert not (tmp_path / "sprung").exists()
