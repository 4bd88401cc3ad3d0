"""What is settled with the owner: change orders, the punch list, the walk-through, warranties.

Their rows are in no digest of a sign-off of the work (`checks/progress/digests.py`), since they go
on after the handover. The walk-through alone is signed, by a sign-off of its own kind.
"""
