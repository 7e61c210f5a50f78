"""The table ``ambience_print``: prints of reverbs and delays, and what they show against what feeds them."""
