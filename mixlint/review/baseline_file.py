"""A baseline on disk: an earlier report in JSON, or an approval."""

from __future__ import annotations

import json
from pathlib import Path

from pydantic import ValidationError

from mixlint.errors import BrokenFile, InputError
from mixlint.review.findings import Report
from mixlint.revisions.approval import Approval, approval_of


def read_baseline(path: Path) -> Report | Approval:
    """The report or approval in a file.

    Raises:
        BrokenFile: it is neither, or damaged.
        InputError: it cannot be read.
    """
    do = "make one with mixlint review --as json --out FILE, or with mixlint sign --approve"
    try:
        body = json.loads(path.read_text(encoding="utf-8-sig"))
    except OSError as fault:
        raise InputError(f"it cannot be read ({fault.strerror})", where=str(path), do="check the path") from fault
    except (ValueError, RecursionError) as fault:
        raise BrokenFile("this is no baseline: it is not JSON", where=str(path), do=do) from fault
    form = body.get("format") if isinstance(body, dict) else None
    if form == "mixlint-approval/1":
        return approval_of(body, str(path))
    if form != "mixlint-report/1":
        raise BrokenFile("this is no baseline: neither a report nor an approval", where=str(path), do=do)
    try:
        return Report.model_validate(body)
    except ValidationError as fault:
        place = ".".join(map(str, fault.errors()[0]["loc"]))
        raise BrokenFile(f"this is no report that can be read: {place}", where=str(path), do=do) from fault
