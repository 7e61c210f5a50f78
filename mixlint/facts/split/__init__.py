"""The table ``split``: channels whose signal parts and meets again at the mix bus."""
