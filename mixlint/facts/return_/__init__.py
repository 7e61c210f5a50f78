"""The table ``return``: effect returns, the dry signal in them, their low end and their print."""
