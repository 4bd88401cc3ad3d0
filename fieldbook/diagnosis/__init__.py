"""What is wrong with a zone: readings in, ranked causes and the next measurement out.

The package is pure: standard library, `fieldbook.water`, `fieldbook.wiring` and `fieldbook.trade`
only. It has frozen inputs of its own; `fieldbook.checks.diagnosing` maps a job onto them.

A zone that runs: start at `ranking.diagnose`. `zone_parts` is what it takes, `fault_axes` lists
the faults, `fault_bench` simulates each with the solver, `reading_noise` and `head_signs` say how
likely readings and signs are, `fault_weights` and `double_faults` weigh, `next_reading` chooses
what to read next. A zone that does not run: `dead_zone`. Both in words: `fault_words`.

The chances are those of `trade/water_faults.toml`: common practice, no source.
"""
