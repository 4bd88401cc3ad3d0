"""What laptops entered differently, as questions to the crew, and the acts that settle them.

`question` has the types; `cell_questions` and `row_questions` make the questions of a loaded job
from its conflicts; `settling` lists all of them and carries out the answers. An answer is an
ordinary act: it commits changes and can be undone. Which cells are in conflict is decided in
`store.journal`. Imports the actions on cells, rows and wires. Start at `settling`.
"""
