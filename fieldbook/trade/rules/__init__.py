"""Local rules: what an authority may set, the files that set it, and what nobody sets.

`keys` names every rule with its kind of value and its limits. `editions` reads a jurisdiction's
TOML file, and resolves what a set inherits and which edition is in force; `generic.toml` is the
set that is shipped. `design_limits` has the figures of design practice that no set overrides.
Nothing here is law: the authority having jurisdiction decides.
"""
