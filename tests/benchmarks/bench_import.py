"""Import of a large session against a bare XML pass over the same bytes, in one run.

``python tests/benchmarks/bench_import.py`` writes a session of 2,000 channels and 500,000 automation points, reads it
into the model and prints the ratio to a bare ``lxml`` ``iterparse`` and the memory above the start of the reading.
Each measurement runs in a process of its own, alternating, and the best of several counts.
"""

from __future__ import annotations

import argparse
import io
import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path


def write_session(path: Path, channels: int, points: int) -> int:
    """Write a session as a bare ``project.xml`` at ``path`` and packed beside it; returns the XML's size in bytes."""
    import zipfile

    each = points // channels
    out = io.StringIO()
    out.write('<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<Project version="1.0">\n')
    out.write(
        '  <Application name="bench" version="1"/>\n  <Transport>\n    <Tempo unit="bpm" value="120" id="tempo"/>\n'
    )
    out.write('    <TimeSignature numerator="4" denominator="4" id="metre"/>\n  </Transport>\n  <Structure>\n')
    for n in range(channels):
        out.write(
            f'    <Track contentType="audio" loaded="true" id="t{n}" name="Part {n}">\n'
            f'      <Channel audioChannels="2" destination="main" role="regular" solo="false" id="c{n}">\n'
            f'        <Mute value="false" id="m{n}" name="Mute"/>\n'
            f'        <Pan max="1.0" min="0.0" unit="normalized" value="0.5" id="p{n}" name="Pan"/>\n'
            f'        <Volume max="2.0" min="0.0" unit="linear" value="0.5" id="v{n}" name="Volume"/>\n'
            "      </Channel>\n    </Track>\n"
        )
    out.write(
        '    <Track contentType="audio notes" id="tm" name="Main"><Channel role="master" id="main">'
        '<Volume max="2.0" min="0.0" unit="linear" value="1.0" id="vm"/></Channel></Track>\n'
    )
    out.write('  </Structure>\n  <Arrangement id="a">\n    <Lanes timeUnit="beats" id="l">\n')
    for n in range(channels):
        out.write(f'      <Lanes track="t{n}" id="l{n}">\n        <Clips id="k{n}">\n')
        out.write(
            f'          <Clip time="0.0" duration="64.0" playStart="0.0" name="take">'
            f'<Audio channels="1" sampleRate="48000" duration="32.0" id="w{n}">'
            f'<File path="audio/{n}.wav"/></Audio></Clip>\n'
        )
        out.write(f'        </Clips>\n        <Points unit="linear" id="q{n}">\n          <Target parameter="v{n}"/>\n')
        for i in range(each):
            out.write(
                f'                    <RealPoint value="{(i * 7919 % 1000000) / 1000000:.6f}" '
                f'interpolation="linear" time="{i / 4 + n / 1000:.6f}"/>\n'
            )
        out.write("        </Points>\n      </Lanes>\n")
    out.write("    </Lanes>\n  </Arrangement>\n</Project>\n")
    xml = out.getvalue().encode()
    path.write_bytes(xml)
    with zipfile.ZipFile(path.with_suffix(".dawproject"), "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("project.xml", xml)
    return len(xml)


def _peak() -> float:
    # Not ru_maxrss: a child inherits that figure from the process that started it.
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return int(status.split("VmHWM:")[1].split()[0]) / 1024.0


def run_one(what: str, path: Path) -> dict[str, float]:
    """One measurement in this process: seconds and megabytes above the start."""
    if what == "import":
        import pydantic_core  # noqa: F401 - what every command has loaded before a session is read

        from mixlint import importers

        # A first, tiny read builds the models' validators, which a real run pays once per process, not per session.
        small = path.with_name("small.xml")
        importers.read(small)
        before, start = _peak(), time.perf_counter()
        session = importers.read(path)
        took = time.perf_counter() - start
        count = sum(len(one.t) for channel in session.channels for one in channel.automation)
        return {"s": took, "mb": _peak() - before, "points": count, "channels": len(session.channels)}
    from lxml import etree

    before, start = _peak(), time.perf_counter()
    for _, element in etree.iterparse(str(path)):
        element.clear()
    return {"s": time.perf_counter() - start, "mb": _peak() - before}


def measure(path: Path, rounds: int) -> dict[str, float]:
    """The best of several alternating rounds, each in a fresh process."""
    best: dict[str, dict[str, float]] = {}
    for _ in range(rounds):
        for what, mode, file in (
            ("bare", "bare", path),
            ("import", "import", path),
            ("packed", "import", path.with_suffix(".dawproject")),
        ):
            done = subprocess.run(
                [sys.executable, __file__, "--one", mode, "--file", str(file)],
                capture_output=True,
                text=True,
                check=True,
            )
            found = json.loads(done.stdout)
            if what not in best or found["s"] < best[what]["s"]:
                best[what] = found
    return {
        "bare_s": best["bare"]["s"],
        "import_s": best["import"]["s"],
        "packed_s": best["packed"]["s"],
        "ratio": best["import"]["s"] / best["bare"]["s"],
        "mb_above_start": max(best["import"]["mb"], best["packed"]["mb"]),
        "points": best["import"]["points"],
        "channels": best["import"]["channels"],
    }


def main() -> None:
    """Run the benchmark and print one line per figure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--channels", type=int, default=2000)
    parser.add_argument("--points", type=int, default=500_000)
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--one", choices=("bare", "import"))
    parser.add_argument("--file", type=Path)
    given = parser.parse_args()
    if given.one:
        print(json.dumps(run_one(given.one, given.file)))
        return
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "large.xml"
        size = write_session(path, given.channels, given.points)
        write_session(path.with_name("small.xml"), 1, 1)
        found = measure(path, given.rounds)
    print(f"project.xml        {size / 1e6:.1f} MB, {found['channels']:.0f} channels, {found['points']:.0f} points")
    print(f"bare iterparse     {found['bare_s']:.2f} s")
    print(f"read into model    {found['import_s']:.2f} s")
    print(f"the same, packed   {found['packed_s']:.2f} s")
    print(f"ratio              {found['ratio']:.2f} (at most 1.6)")
    print(f"memory above start {found['mb_above_start']:.0f} MB (at most 150)")


if __name__ == "__main__":
    main()
