"""Checks of the ground: the pressure test, the flush, the backfill, and ties to buried things.

`pressure_test` and `flush` say what has to be proven before pipe is buried; start there.
`backfill` looks at each stretch that is being buried, `positions` at the tapes that tie a buried
thing to fixed points. The room imports `records`, `trade`, `checks.common` and `checks.finding`.
"""
