"""How the tables hang together: the facts that lead from a row to rows of other tables."""
