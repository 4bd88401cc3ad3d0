"""fieldbook: the job record of a residential irrigation installer, from street to controller.

The rooms, from the bottom: `units`; `trade` (published tables); `water` and `wiring` (arithmetic);
`records` (the tables of a job); `checks`, `jobfile` and `store` (the book); `papers`; `actions`;
`screens` and `cli`. A room imports only those before it, and its `__init__` says what it holds.
Start at `actions.open_job`: a property, loaded and checked, and the one way to change it.
"""

__version__ = "0.1.0"
