"""The book on disk: one SQLite file that holds the record of every job, and its journal.

`book.py` is the face of the store: open a book, load a job, commit an act, undo it. Start there. A
change is written to the record's tables, appended to the journal and kept in one transaction.

From the bottom: `errors`, `paths` and `changes` (what an act changes); `sqlite/`; `journal/` (every
change, and the rules that make rows from changes) and `attached`; `board/`, `settings` and
`places` (what else a book keeps), `seals/` (what proves who made an entry); `lifecycle/` (open,
migrate, verify), `load` and `sharing`; `book_reader` and `book`; on top `exchange/`, `office/`,
`rebuild`, and `snapshot`, which reads a book beside an open app. An import contract holds this
order.

The store imports the record. Its callers see the methods of `Book`, never the connection.
"""
