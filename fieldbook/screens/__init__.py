"""The screens, in Textual: the board, a property at its places, and pages over them.

`app.py` shows the first frame and opens the book; `open_book.py` carries out the board's commands;
`board/` is the home screen, `job/` a property at one of its places, `pages/` what opens over them;
`sheets/` builds from a loaded job what a place shows, without Textual; `widgets/` are small parts;
`faults.py` reports a fault of our own before `app.py` goes back to the board.

Each room imports only those after it in this order: app, open book, board and job, pages, sheets,
widgets; the import contracts hold this. All may import actions and what is below; none writes SQL.
Start with `job/job_screen.py` and follow a key: `job/sheet_view.py`, `job/cell_entry.py`, actions.
"""
