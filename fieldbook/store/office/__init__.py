"""Exchange through an office's PostgreSQL database, the hub: laptops meet there without a stick.

On a laptop: `office_exchange.py` runs an exchange (start there), `push.py` sends entries, `pull.py`
receives them, `files.py` moves attached files, `office_session.py` holds what was done so far, and
`limits.py` says which entries the hub can hold.
`connection.py` connects, and puts every failure into a plain sentence. What a book remembers of an
office is in `store/places.py`, what it has to send in `store/sharing.py`.

At the office: `setup.py` makes the hub and lets laptops in. Its SQL is in `office_tables.py` (the
entries, and who may add which), `turn_sql.py` (laptops add entries in turns), `door_sql.py` (a
laptop's quota, and what is refused from it), `laptop_roles.py` (each laptop's role) and `views.py`
(what the office reads). What Python works out from the entries, and the hub keeps for those views,
is the room `derived/`; seals, which prove who made an entry, are in `sealed/`.

This room imports the journal and the open `Book`. psycopg takes long to import, so only commands
that speak with an office import this room.
"""
