"""The window: shows the book's values and turns gestures into operations. It decides no rule.

One way and no way back: a gesture → an operation → a new book on the `Desk` → its signals → views.
A view is a widget that is given plain values, emits signals of what the writer wants, and puts on
its colours and faces in `dress(theme)`; the main window alone joins views to the desk.
"""
