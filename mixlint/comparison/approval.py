"""An approved mix: the session as it was, what it sounded like and what was found in it, in a file beside it.

The file is JSON with a seal, a hash over all the rest. Two people who approve two mixes change the same lines, so a
three-way merge stops; and a merge that went through by hand or by a driver breaks the seal, so that nobody is held to
a mix that nobody approved. The seal is no secret: whoever sets out to can make it anew. Who approved is proved by a
signature alone (:mod:`mixlint.comparison.approval_signature`).
"""

from __future__ import annotations

import json
from hashlib import sha256
from pathlib import Path
from typing import Any, Final, Literal

from pydantic import Field, ValidationError

from mixlint.errors import BrokenFile, InputError
from mixlint.plain_files import read_plain
from mixlint.session import Session
from mixlint.session.maybe import Frozen
from mixlint.unseen import with_unseen_escaped

MOST_BYTES: Final = 512 << 20
"""An approval larger than this is refused; a session of 10,000 channels takes a tenth of it."""

Scalar = float | int | bool | str


class ApprovedFinding(Frozen):
    """One flagged, open or signed finding at the time of approval."""

    rule: str
    table: str
    name: str
    verdict: Literal["flagged", "open", "signed"]
    fingerprint: str
    values: dict[str, Scalar | tuple[Scalar, ...]] = Field(default_factory=dict)
    limits: dict[str, Scalar | tuple[Scalar, ...]] = Field(default_factory=dict)


class Approval(Frozen):
    """Who approved which mix, when, and what it was.

    Args:
        mix: the mix number.
        by: the initials of who approved it.
        on: the day, ISO 8601.
        seal: the hash of all the rest, as the file has it; made anew whenever it is written.
        signature: the signature of the seal by an SSH key; empty without one.
        standard: the standard it was reviewed under.
        digest: the digest of the file that was approved, as a record.
        session: the session in the neutral form.
        contents: media id to the hash of its sound, for the files that were heard.
        findings: what was found in it.
    """

    format: Literal["mixlint-approval/1"] = "mixlint-approval/1"
    mix: int = Field(ge=0)
    by: str
    on: str
    seal: str = ""
    signature: str = ""
    standard: str
    digest: str = ""
    session: Session
    contents: dict[str, str] = Field(default_factory=dict)
    findings: tuple[ApprovedFinding, ...] = ()


def approval_text(approval: Approval) -> str:
    """The file's text: JSON, the seal on the line after the name of who approved.

    Args:
        approval: what is approved; the seal it bears is not used but made anew.
    """
    body = _body(approval)
    head = {key: body.pop(key) for key in ("format", "mix", "by", "on")}
    signature = {"signature": approval.signature} if approval.signature else {}
    sealed = {**head, "seal": _seal({**head, **body}), **signature, **body}
    lines = json.dumps(sealed, indent=1, ensure_ascii=False, allow_nan=False).split("\n")
    return "".join(f"{with_unseen_escaped(line)}\n" for line in lines)


def seal_of(approval: Approval) -> str:
    """The seal of an approval: a hash over all of it but its signature."""
    return _seal(_body(approval))


def _body(approval: Approval) -> dict[str, Any]:
    dumped = approval.model_dump(mode="json", exclude_defaults=True, exclude={"seal", "signature"})
    # The session's own format is left out, so that no importer takes this file for a session.
    dumped["session"] = approval.session.model_dump(mode="json", exclude_defaults=True)
    return {"format": approval.format, **dumped}


def _seal(body: dict[str, Any]) -> str:
    text = json.dumps(body, sort_keys=True, ensure_ascii=True, allow_nan=False, separators=(",", ":"))
    return sha256(text.encode()).hexdigest()


def read_approval(path: Path) -> Approval:
    """Read an approval.

    Args:
        path: the file.

    Raises:
        BrokenFile: it is no approval, or its seal is broken.
        InputError: it cannot be read.
    """
    again = "approve the mix again with mixlint sign --approve"
    try:
        content = read_plain(path, MOST_BYTES).decode("utf-8-sig")
        body = json.loads(content, parse_constant=_no_constant, object_pairs_hook=_once)
    except OSError as fault:
        raise InputError(f"it cannot be read ({fault.strerror})", where=str(path), do="check the path") from fault
    except KeyError as fault:
        raise BrokenFile(
            f"{fault.args[0]} stands twice in it, so it is not clear what was approved", where=str(path), do=again
        ) from fault
    except (ValueError, RecursionError) as fault:
        raise BrokenFile("this is no approval: it is not JSON", where=str(path), do=again) from fault
    return approval_of(body, str(path))


def approval_of(body: Any, where: str) -> Approval:
    """An approval from parsed JSON.

    Args:
        body: what was parsed; the seal is taken out of it.
        where: the file, for faults.

    Raises:
        BrokenFile: it is no approval, or its seal is broken.
    """
    again = "approve the mix again with mixlint sign --approve"
    if not isinstance(body, dict) or body.get("format") != "mixlint-approval/1":
        raise BrokenFile("this is no approval", where=where, do=again)
    seal, signature = body.pop("seal", None), body.pop("signature", "")
    if seal != _seal(body):
        raise BrokenFile("the seal is broken: this is not what was approved (merged or edited?)", where=where, do=again)
    try:
        return Approval.model_validate({**body, "seal": seal, "signature": signature})
    except ValidationError as fault:
        place = ".".join(map(str, fault.errors()[0]["loc"]))
        raise BrokenFile(f"this is no approval: {place}", where=where, do=again) from fault


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """A table in which every key stands once: of two, readers show one and programs take the other."""
    found = dict(pairs)
    if len(found) < len(pairs):
        keys = [key for key, _ in pairs]
        raise KeyError(next(key for key in keys if keys.count(key) > 1))
    return found


def _no_constant(word: str) -> float:
    raise ValueError(f"{word} is no number of JSON")
