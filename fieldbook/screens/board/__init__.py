"""The board: the home screen, a row for each property.

`board_screen.py` is the screen, `board_list.py` its list, `columns.py` how a row is laid out. The
screen does nothing itself: it posts `BoardScreen.Do`, and `screens/open_book.py` carries it out.

It may import the keymap and `screens/widgets`, at run time nothing else of the project: the first
frame is drawn before the record and the store are imported. Start with `board_screen.py`.
"""
