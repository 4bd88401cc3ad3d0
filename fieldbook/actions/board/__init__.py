"""All properties at once: the board's rows, the search in them, and the day list.

`board_row` is one property's row, `make_row` makes it from its job; `board` keeps the stored rows
up to date, lists them and searches them; `day_list` says what can be done today, what waits and
what runs out.
Imports checks and store, and no other action. Start at `board.Board`.
"""
