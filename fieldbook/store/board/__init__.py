"""The board as the book stores it: a row for each property, worked out from the record.

A board row holds what the board shows of a job, the last day on which that still holds, and the
texts by which the job is found. Nothing here is entered, so all of it may be deleted and made anew.
`board_table.py` makes the table and the triggers that keep one row for each property; start there.
`stored_board.py` reads, pages and saves the rows; `search.py` finds jobs by the words in them.

What a row says is worked out in `actions/board`. This room imports `sqlite`, and of the record only
what a table class needs.
"""
