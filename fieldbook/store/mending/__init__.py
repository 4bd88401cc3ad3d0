"""What to do when a book is damaged: find what is wrong, and make it anew from what is sound.

`verify.py` looks a book over without changing it; start there. `verify_journal.py` reads every
entry once, against its hash and the text journal; `verify_rows.py` merges the entries of each row
and compares; `verify_copies.py` compares the backups and the attached files; `verify_seals.py`
reads the signatures. `rebuild.py` makes a new book from every entry whose hash is right, wherever
it is found: in the text journal, in a backup, in the damaged book itself (`sound_entries.py`).
`in_place.py` puts the new book where the old one was.

Memory stays the same however many entries there are: nothing holds more than a batch of them.
This room imports the book and the rooms below it.
"""
