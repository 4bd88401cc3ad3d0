"""What stands on each paper: one function a paper, from a `PaperSource` to a `Paper`.

Begin at `catalogue`, which lists the papers by name, and those of which there is one a visit; they
are built of `papers.blocks`. The dispute sheet is made of a claim, which `actions/disputes` takes
from the journal. A paper for the owner never shows the access notes, the crew's own notes or phone
numbers other than the firm's.
"""
