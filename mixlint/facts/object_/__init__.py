"""The table ``object``: what those files hold, bed by bed and object by object."""
