"""Which properties this laptop holds: fetch one that is elsewhere, put one away that is done.

`fetch_property` brings all entries of one property from the office or from a folder;
`leave_laptop` chooses what the laptop is to hold, and removes properties whose entries are all
elsewhere. What is held is in `store/holding`. Imports the board, the exchange and `properties`.
"""
