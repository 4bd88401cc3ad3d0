"""What stands on each paper: one function a paper, from a `PaperSource` to a `Paper`.

Begin at `catalogue`, which lists the papers by name. `paper_source` is what every paper is made
from, `record_blocks` makes blocks of rows of the record. A paper for the owner never shows the
access notes, the crew's own notes or phone numbers other than the firm's.
"""
