"""The palette (Ctrl+P): every action, and every place to go, found by typing part of its name.

`entries.py` has the data of one line and how well it matches what is typed; `palette_screen.py` is
Textual's command palette with our provider, which asks the app for its entries. The job screen and
the open book make them (`job/destinations.py`, `job/not_now.py`, `open_book.py`).

It may import Textual and the keymap, nothing of the record: it is there before the book is open.
"""
