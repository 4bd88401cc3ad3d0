"""A book's file over its life: opened, brought up to the model, migrated, verified.

`connect.py` opens the file with settings that survive a power cut, and decides what it needs; start
there. `book_tables.py` is the model, `known_layout.py` tells a book that has its tables already
without importing it, `layout.py` compares a file with it and adds what is missing, which no new
FORMAT is needed for. `migrate.py` brings up books of formats 1 to 6, whose changes were kept in a
log of another kind. `verify.py` looks a book over without changing it.

This room imports the journal, the board's tables and `sqlite`. How FORMAT is raised is said by
`tests/book/test_pinned_tables.py` when it fails.
"""
