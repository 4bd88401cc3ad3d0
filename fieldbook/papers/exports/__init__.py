"""Open formats for other programs: GeoJSON of the as-built, iCalendar of the dates, CSV by table.

Each is a pure function of a loaded job; `actions.files` writes them. Access notes, phone numbers
and the crew's own notes are in none but the CSV tables, which are the record itself.
"""
