"""Printing: a paper as one self-contained HTML page, or as a PDF.

`html_page` fills `templates/paper.html` with Jinja2, which escapes all text. `pdf_page` gives the
same blocks as JSON to `templates/paper.typ`, which Typst sets; no text of the record is read as
markup by either. `codes` draws QR codes.
"""
