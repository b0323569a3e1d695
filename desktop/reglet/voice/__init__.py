"""Listening: the book read out, word by word in step with the page, and taken away as sound files.

Text goes one way: `reading_order` cuts a book into pieces, `said` says what stands there as a
reader would, a speaker (`piper`, `espeak`) makes sound of it with the time of every word, `ahead`
does so in the background, and `listening` plays it on a `SoundDevice` that the window gives.

Knows no Qt. Works, and says so in a sentence, where no voice is installed.
"""
