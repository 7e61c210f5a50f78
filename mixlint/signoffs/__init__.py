"""What was accepted in a session, by whom and until when: lines of text beside it that lapse when their grounds do.

It turns verdicts of a review into signed ones and back; it judges nothing anew.
"""
