"""The screens, in Textual: the board, the five places as sheets, pickers and help."""
