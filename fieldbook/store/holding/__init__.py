"""Which of the firm's properties this book holds: all of them, or those chosen for this laptop.

A property is held when the journal has entries of it, and then it has all that came: there is no
property of which a part is held. Of the others the book keeps one line each, for the board, in the
table `not_here`. `keeping.py` has the setting and the lists; start there. `passing.py` decides of
each entry that an exchange brings whether the book takes it. `lines.py` makes the lines. All of it
is this laptop's own: none of it is an entry, and none of it travels.

This room imports the journal and what is below it; the book and the rooms of exchange import it.
"""
