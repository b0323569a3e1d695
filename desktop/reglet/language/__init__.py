"""The language core: what overlays stand on. Plain text in, code-point offsets out; no Qt, no files
but its own data in ``resources/language``. See ``prose.Prose`` for the one value to begin with.
"""
