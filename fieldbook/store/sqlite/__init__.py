"""SQLite itself, whatever a book holds: transactions, rows as plain SQL, the lock, backups.

`book_connection.py` is the connection, `transactions.py` turns every failure into one sentence
(start there), `row_statements.py` reads and
writes the rows of one table, `lock.py` lets one program write and tells a second who it is,
`backup.py` copies it. The settings of the connection are in `lifecycle/connect.py`.

This room imports only `store/errors`, and from the record what a time stamp needs.
"""
