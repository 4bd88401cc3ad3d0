"""Sign-offs: what must be proven before one is given, and whether it still covers what is there.

`holds` lists the twelve hold points; start there. `digests` makes the digest of what a sign-off
covers, and `signatures` flags sign-offs whose record changed since, or that overrode a hold. The
room imports `records`, `checks.common`, `checks.finding` and what the rooms of the places say is
still to be proven.
"""
