"""What an audio file describes of its own legs: the audio definition model (ITU-R BS.2076) in BW64 (ITU-R BS.2088).

It reads and believes nothing: what is damaged is told, what is past the bounds is left unread with the reason.
"""
