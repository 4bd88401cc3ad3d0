"""Seals at the office: what proves who made an entry (`store/seals`), and whose key is distrusted.

`office_seals.py` sends and receives them, on a laptop; start there. `seals_sql.py` are the hub's
tables, `shut_out.py` distrusts the keys of a laptop that its keeper removes. This room imports the
office's connection, session and tables.
"""
