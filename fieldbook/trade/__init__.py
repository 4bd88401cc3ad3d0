"""Published tables and generic rules as data, each with its source and edition. Imports nothing."""
