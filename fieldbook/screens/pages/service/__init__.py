"""Pages that open from the place “service”.

`diagnosis_page` ranks what could be wrong with a zone, from readings of the record or typed on the
page. It works in a thread that posts a message, and may import what `pages` may. Start there.
"""
