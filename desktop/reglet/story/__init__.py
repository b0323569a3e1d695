"""What a story is made of, read from its text: people, threads, time, the plan and its drift.

Everything here is proposed to the writer, who corrects it; nothing here changes the book.
"""
