"""Pages that open over a place or the board, and close with Esc.

`page.py` shows lines that are drawn for the width there is; `reports.py` writes such lines.
`picture_page.py` shows a picture that `?` explains and Ctrl+S writes as SVG: `plan_page.py` and
`wire_page.py` have those. Pages with keys of their own have a screen: `zone_page.py` (with
`zone_help.py` and `zone_advice.py`), `conflict_page.py` (with `question_lines.py`),
`exchange_page.py`, `photo_page.py`.

They may import sheets (help texts), widgets, actions, papers, checks, water and records; they know
neither the board nor the job's screen. Start with `page.py` and `reports.py`.
"""
