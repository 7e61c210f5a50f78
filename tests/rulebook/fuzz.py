"""Damage standards, rules, word files and sign-offs: whatever stands in them, it is used or refused with a place.

``python -m tests.rulebook.fuzz --runs 20000 --seed 0`` runs until the count is reached or a fault is found. Mostly
the structure stays: a value is replaced by another that TOML knows, a key moves, goes or comes twice. In the others
lines and bytes are damaged as in ``tests.importers.fuzz``. A fault is printed with its seed.
"""

from __future__ import annotations

import random
import re
import shutil
import tempfile
import time
from collections import Counter
from functools import partial
from pathlib import Path

from mixlint import resources
from mixlint.errors import InputError, RulebookError
from mixlint.rulebook import load_standard
from mixlint.rulebook.faults import Faults
from mixlint.rulebook.rule_file import read_rule_file
from mixlint.rulebook.standard import BESIDE
from mixlint.signoffs.file import read_signoffs
from tests.importers.fuzz.words import tear
from tests.seeded_runs import command

SLOW_S = 5.0
HOUSE = Path(__file__).parents[2] / "example_sessions" / "house"
_VALUES = (
    "0", "-1", "1.5", "nan", "inf", "9" * 25, "9" * 400, "0x" + "f" * 99, "true", "2020-01-01", "12:30:00", '""', "''",
    '"x"', '"limits.most_db"', '"{name}"', '"{"', '"{a.b.c}"', '"*"', '"**x/**"', '"[z-a]"', '"../*"', '"/**"', "[]",
    "[1, [2]]", '["a", 1]', "{}", '{ at_most = "x" }', "{ of = 1 }", "{ every = { every = {} } }",
    '"\\u0000"', '"\\u202e"',
    "[" * 40 + "]" * 40, "[" * 2000, "{ a = " * 20 + "1" + " }" * 20, ".5", "1_0", '"' + "*a" * 60 + '"', "“x”", "",
    '"hold"', '"pre-bounce"', '"mixlint-standard.toml"', '"between"',
    "{ not = { not = { all = [] } } }", "{ count = 3 }",
)  # fmt: skip
_LINES = (
    "[limits]",
    "[grades]",
    "[[example]]",
    "[limits.x]",
    "[a.b.c]",
    "[",
    "= 1",
    ".".join("a" * 60) + " = 1",
    "[[grades]]",
)
_SIGNED = (
    "# mixlint sign-offs\n# levels\n"
    'sign nothing-soloed channel "Shaker" because "meant so" by RM on 2026-01-02 until never for finding grade hold\n'
    'sign faders-in-use channel "Bass" number 2 because "x" by AB on 2026-01-02 until 2026-05-01 for song grade look\n'
)
BASE = """
name = "base"
takes = ["delay-in-time", "return-low-cut", "pan-answered", "named-by-part", "effect-follows-fader", "return-fully-wet"]
"""
"""A few rules in the place of mixlint's whole checklist, which takes a tenth of a second to load."""
_LINE = re.compile(r"^(\s*)([^=\n]*?)(\s*=\s*)(.*)$")


def seeds() -> dict[str, list[str]]:
    """Texts by kind: standards, rules, word files, sign-offs."""
    rules = sorted(resources.folder("rules").glob("*/*.toml"))
    own = sorted((HOUSE / "rules").glob("*.toml"))
    shipped = [path for path in rules if path.parent.name not in ("standards", "words")]
    return {
        "standard": [(HOUSE / BESIDE).read_text(encoding="utf-8").replace('"pre-bounce"', '"base.toml"')],
        "rule": [path.read_text(encoding="utf-8") for path in (*own, *shipped[::40])],
        "words": [path.read_text(encoding="utf-8") for path in sorted((HOUSE / "words").glob("*.toml"))],
        "signs": [_SIGNED],
    }


def twist(text: str, chance: random.Random) -> str:
    """Change values, keys and lines, so that most of it is still read."""
    lines = text.split("\n")
    for _ in range(chance.choice((1, 1, 2, 4, 8))):
        at = chance.randrange(len(lines))
        found = _LINE.match(lines[at])
        kind = chance.randrange(8)
        if found and kind < 4:
            lines[at] = f"{found[1]}{found[2]}{found[3]}{chance.choice(_VALUES)}"
        elif found and kind == 4:
            other = _LINE.match(chance.choice(lines))
            lines[at] = f"{found[1]}{(other or found)[2]}{found[3]}{found[4]}"
        elif found and kind == 5:  # one word within the value
            words = re.findall(r'"[^"]*"|-?[\d.]+', found[4])
            if words:
                lines[at] = lines[at].replace(chance.choice(words), chance.choice(_VALUES), 1)
        elif kind == 6:
            lines.insert(at, chance.choice((chance.choice(lines), *_LINES)))
        else:
            line = lines.pop(at)
            lines.insert(chance.randrange(len(lines) + 1), line)
    return "\n".join(lines)


def one_run(seed: int, texts: dict[str, list[str]], house: list[tuple[str, str]], folder: Path) -> str:
    """One damaged file, read; returns its kind and what came of it.

    Raises:
        AssertionError: it took too long, or a refusal says nothing.
    """
    chance = random.Random(seed)
    kind = chance.choice(("standard", "standard", "rule", "rule", "rule", "words", "signs"))
    text = chance.choice(texts[kind])
    data = twist(text, chance).encode() if chance.random() < 0.8 else tear(text.encode(), chance)
    if chance.random() < 0.1:
        wide = data.decode("utf-8", "replace").encode("utf-16")
        data = chance.choice((b"\xef\xbb\xbf" + data, data.replace(b"\n", b"\r\n"), wide))
    start = time.perf_counter()
    try:
        if kind == "signs":
            (folder / "song.signed.txt").write_bytes(data)
            read_signoffs(folder / "song.signed.txt")
        elif kind == "rule" and chance.random() < 0.3:
            name = _id(text)
            (folder / f"{name}.toml").write_bytes(data)
            faults = Faults()
            read_rule_file(folder / f"{name}.toml", name, faults, whole=True)
            (folder / f"{name}.toml").unlink()
            faults.stop()
        else:
            file = folder / BESIDE
            if kind == "words":
                file = folder / "words" / ("yard-roles.toml" if "[role." in text else "yard-words.toml")
            elif kind == "rule":
                name = _id(text)
                (folder / BESIDE).write_text(f'name = "a"\nbuilds_on = "base.toml"\nrules = ["x/{name}.toml"]')
                file = folder / "x" / f"{name}.toml"
            file.write_bytes(data)
            try:
                load_standard(None, folder)
            finally:
                for one, kept in house:
                    (folder / one).write_text(kept, encoding="utf-8")
    except (RulebookError, InputError) as refusal:
        if not 10 < len(str(refusal)) < 100_000:
            raise AssertionError("a refusal that says nothing, or that nobody reads") from refusal
        return f"{kind}: refused"
    finally:
        took = time.perf_counter() - start
    assert took < SLOW_S, f"took {took:.1f} s"
    return f"{kind}: used"


def _id(text: str) -> str:
    found = re.search(r'^id = "([a-z0-9-]+)"', text, re.MULTILINE)
    return found[1] if found else "x"


def run(runs: int, first_seed: int, report: bool = False) -> Counter[str]:
    """Many runs; the first fault is raised with its seed in the message."""
    texts = seeds()
    names = (BESIDE, "words/yard-words.toml", "words/yard-roles.toml")
    house = [
        (name, (HOUSE / name).read_text(encoding="utf-8").replace('"pre-bounce"', '"base.toml"')) for name in names
    ]
    outcomes: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copytree(HOUSE, folder, dirs_exist_ok=True)
        (folder / "x").mkdir()
        (folder / "base.toml").write_text(BASE, encoding="utf-8")
        for one, kept in house:
            (folder / one).write_text(kept, encoding="utf-8")
        for seed in range(first_seed, first_seed + runs):
            try:
                outcomes[one_run(seed, texts, house, folder)] += 1
            except Exception as fault:
                raise AssertionError(f"seed {seed}: {type(fault).__name__}: {fault}") from fault
            if report and (seed - first_seed + 1) % 2_000 == 0:
                print(f"{seed - first_seed + 1} runs: {dict(outcomes)}", flush=True)
    return outcomes


if __name__ == "__main__":
    command(__doc__, partial(run, report=True), 20_000)
