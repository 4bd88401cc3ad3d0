"""What a crew does with a property: each thing once, for the screens and the commands alike.

An action reads the loaded job, decides, and commits its changes to the book as one act, which one
undo takes back. What can't be done raises RefusedError (`refused`) with a sentence for the crew.

Start at `open_job`: a property open for work. On it act `cells` (enter a value), `rows` (add and
remove), `log_wires`, `signing` and `rules`; `cell_history` tells what a cell held. On the whole
book act `properties` and `job_files`. `board`, `conflicts`, `exchange` and `files` are rooms of
their own; `keymap` lists the keys, `keys_file` reads those of this laptop. Imports store, checks,
jobfile and papers, never screens, and holds no SQL.
"""
