"""The table ``handover``: the session as it goes out of the house."""
