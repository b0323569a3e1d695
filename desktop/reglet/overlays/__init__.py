"""Overlays: what a stage shows about the text, and what it asks the writer.

To add one is to add one file in the folder of its stage, with its examples under it, and a line in
`register`. `examine.Examiner` runs them over a book; `answer` puts the writer's decisions into it.
"""
