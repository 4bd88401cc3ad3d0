"""Small parts that every screen uses: dialogs, lists, the first and last line, themes, fitted text.

Stored text is hostile: a plain string with "[/]" in it, given to a Static, Label or OptionList,
ends the app, because Textual reads it as markup. So text goes to widgets as `Content(text)`, which
is literal, or with `markup=False`; a test puts such strings into every field.

It may import the keymap and trade tables. Start with `dialogs.py`.
"""
