"""Rule and standard files become validated rules; conditions have three values: yes, no, unknown.

It knows nothing about audio.
"""

from mixlint.rulebook.rule import Rule
from mixlint.rulebook.rule_file import Basis, Example
from mixlint.rulebook.standard import Standard, find_standard, load_standard, shipped_standard_files, shipped_standards
from mixlint.rulebook.values import Limit

__all__ = [
    "Basis",
    "Example",
    "Limit",
    "Rule",
    "Standard",
    "find_standard",
    "load_standard",
    "shipped_standard_files",
    "shipped_standards",
]
