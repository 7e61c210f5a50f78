"""The table ``track``: every track with its clips taken together: edges, joins, takes, leftovers."""
