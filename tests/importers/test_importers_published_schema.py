"""What we write in the open interchange form, and what we read of others, against the schema that its makers publish.

``MIXLINT_DAWPROJECT_SCHEMA`` names the folder that holds ``Project.xsd`` and ``MetaData.xsd`` (MIT licence) from the
repository of the form; without it these tests are skipped.
"""

from __future__ import annotations

import os
import zipfile
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from lxml import etree

from mixlint import importers
from mixlint.errors import NotASession
from tests.importers.exporters import STYLES, Style
from tests.mutation.clean import clean_sessions
from tests.mutation.writing import Written

SCHEMAS = os.environ.get("MIXLINT_DAWPROJECT_SCHEMA", "")
SAMPLES = os.environ.get("MIXLINT_SAMPLES", "")
EXAMPLES = Path(__file__).resolve().parents[2] / "example_sessions"
pytestmark = pytest.mark.skipif(not SCHEMAS, reason="MIXLINT_DAWPROJECT_SCHEMA names no folder")


@cache
def schema(name: str) -> Any:
    return etree.XMLSchema(etree.parse(str(Path(SCHEMAS) / name)))


def faults(name: str, text: bytes) -> list[str]:
    """In what a document breaks a schema."""
    rules = schema(name)
    rules.validate(etree.fromstring(text.lstrip(b"\xef\xbb\xbf")))
    return [f"line {one.line}: {one.message}" for one in rules.error_log]


def all_faults(path: Path) -> list[str]:
    """The same of a whole file: its document, and in an archive also what it says of itself."""
    if not zipfile.is_zipfile(path):
        return faults("Project.xsd", path.read_bytes())
    with zipfile.ZipFile(path) as archive:
        found = faults("Project.xsd", archive.read("project.xml"))
        if "metadata.xml" in archive.namelist():
            found += faults("MetaData.xsd", archive.read("metadata.xml"))
    return found


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.dawproject")), ids=lambda path: path.stem)
def test_the_example_sessions(path: Path) -> None:
    assert all_faults(path) == []


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.name)
def test_what_the_tests_write(style: Style, tmp_path: Path) -> None:
    """In every style but the one that turns the order of elements around, as exporters are known to do."""
    path = tmp_path / "song.dawproject"
    for clean in clean_sessions(1):
        path.write_bytes(Written(clean.session, style).archive())
        found = all_faults(path)
        assert bool(found) is style.backwards, (clean.name, found[:3])
        assert all("This element is not expected" in one for one in found)


@pytest.mark.skipif(not SAMPLES, reason="MIXLINT_SAMPLES names no folder")
def test_files_that_nobody_here_wrote() -> None:
    """All that are known keep to it; one that does not has to be looked at, since it shows what writers do."""
    read = 0
    for path in sorted(Path(SAMPLES).glob("*")):
        if path.suffix not in (".dawproject", ".xml"):
            continue
        try:
            importers.read(path)
        except NotASession:
            continue
        assert all_faults(path) == [], path.name
        read += 1
    assert read


def test_a_document_that_breaks_it_is_noticed() -> None:
    text = b'<Project version="1.0"><Application name="w" version="1"/><Structure><Channel/></Structure></Project>'
    assert faults("Project.xsd", text) == []
    assert faults("Project.xsd", text.replace(b"<Channel/>", b'<Channel role="monitor"/>'))
