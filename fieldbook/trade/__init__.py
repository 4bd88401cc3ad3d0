"""Published tables of the trade as data, each with its source and edition.

One file a table: `pipes`, `meters`, `backflow`, `solvent_cement`, `colours`. `rules` has the
figures that a local authority may set, and the generic design limits that it does not.

The package may import `fieldbook.units` and nothing else. A figure without a published source is
marked "common practice, no source"; one from memory says so and is only an editable default.
Import from the table's own module: `from fieldbook.trade.pipes import PIPE_CLASSES`.
"""
