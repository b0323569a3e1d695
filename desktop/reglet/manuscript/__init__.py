"""The book as plain immutable values, its operations, and the differences between two states.

Knows no Qt, no files and no SQL. Positions are code points.
"""
