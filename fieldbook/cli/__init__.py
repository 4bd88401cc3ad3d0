"""The `fieldbook` command and its subcommands; each parses its options and calls an action.

`main` has the command itself and the subcommands on the book, `exchange_commands` those that
exchange with other laptops, `office_commands` those for the keeper of the office's database, and
`document_commands` those that need no book. `common` opens the book and turns a refusal into one
sentence and exit code 2; `output` prints tables, `solved_tables` those of `solve`.

Imports screens and actions. A command imports what it uses inside its function, because the app's
first frame must not wait for the record and the store. Start reading at `main.main`.
"""
