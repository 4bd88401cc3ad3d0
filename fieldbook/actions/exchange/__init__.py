"""Exchange entries and attached files with other laptops.

`folder_exchange` goes through a folder, `office` through the office's database, `bundles` through
a file that holds one property. Each returns an `ExchangeReport`. The entries themselves are read
and written by `store.exchange` and `store.office`. `laptop_list` shows and marks the laptops known
by their keys. Imports `actions.files`. Start at `folder_exchange`.
"""
