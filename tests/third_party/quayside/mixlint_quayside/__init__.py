"""What the package adds to mixlint; what does the work is imported when it is needed."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from mixlint.importers import Importer
from mixlint.reports.forms import ReviewForm

MIXLINT_INTERFACE: Final = 1

QUAY_LIST: Final = Importer(
    name="quay-list",
    titles=("a quay list",),
    module="mixlint_quayside.quay_list",
    suffixes=(".quay",),
    shared_suffixes=(".txt",),
    sniff=lambda head: head.startswith(b"quay list\n"),
)

TALLY_STICK: Final = ReviewForm(
    name="tally-stick", module="mixlint_quayside.tally_stick", says="a notch for each flagged row", exact=False
)

RULES: Final = Path(__file__).parent / "rules"
