"""The fourth songs: unread until the rules were done."""
