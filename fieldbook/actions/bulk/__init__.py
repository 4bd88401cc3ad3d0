"""Doing much at once: a pasted table, a value filled down, a zone copied, a round of photos.

Each is one act, which one undo takes back. `draft` is a copy of the open job on which acts are
tried before they are kept together; `pasted_text` reads what was copied from a spreadsheet;
`observed` says which values may not be repeated, because each thing is looked at by itself.

It may import the other actions and what is below them, never screens. Start with `fill_down`.
"""
