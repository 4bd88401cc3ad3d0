"""The checks: pure functions that read one loaded job and find what is wrong or not yet proven.

`registry` lists every check by name and puts their flags in order; start there. `finding` is what a
check finds: a flag with the cell that mends it. Each place has a room of checks: `street`, `wire`,
`water`, `ground` and `desk`; `watering` stands on them, `common` is shared by them. `progress`
holds back sign-offs until what they cover is proven, and `next_step` says what a crew should do
next.

Checks import `records`, `trade`, `water`, `watering`, `wiring` and `units`: no book, no screen, no
disk. The caller passes the day, and what the disk holds, as inputs.
"""
