"""The screen of one property: the tabs of its places, the sheet of one, the flags, the hints.

A key or a click goes from `sheet_view.py` (the sheet's widget, drawn by `sheet_canvas.py`, with
`cursor.py` and `line_edit.py`) to `cell_entry.py`, which enters what was typed or pressed, or to
`commands.py`, which carries out the actions of the keymap; `open_pages.py` opens pages over the
place. These see the screen only as a `command_host.py`, so that nothing imports `job_screen.py` but
the open book. `place_tabs.py`, `flags.py` and `hint.py` are the widgets around the sheet.

It may import pages, sheets, widgets, actions, checks and records. Start with `job_screen.py`.
"""
