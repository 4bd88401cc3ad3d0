"""Checks of the street: the supply, and the backflow assembly with its height and its tests.

`supply_limits` looks at the static pressure and the flow tests; start there. `backflow_height`
compares the assembly with the heads that it serves, `backflow_tests` looks at how it is used and
tested. The room imports `records`, `trade`, `checks.common`, `checks.finding` and the heights of
`checks.water`.
"""
