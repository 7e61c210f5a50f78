"""Roles and families, as the rooms above know them."""

from mixlint.naming.families import FAMILIES, ROLE_FAMILIES, ROLES

__all__ = ["FAMILIES", "ROLES", "ROLE_FAMILIES"]
