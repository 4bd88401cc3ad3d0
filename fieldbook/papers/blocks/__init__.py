"""Blocks that several papers share, made of rows of the record.

`paper_source` is what every paper is made from. `record_blocks` shows rows in the words and units
in which the crew entered them; the others show wires, photos, signatures, verdicts and rules, what
is settled with the owner, visits and seasons.
"""
