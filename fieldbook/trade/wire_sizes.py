"""What numbers wire and decoders come in: AWG sizes on the jacket, addresses on the label."""

from __future__ import annotations

GAUGES = ("10", "12", "14", "16", "18", "20", "22")
"""AWG sizes of control wire, the thickest first."""
HIGHEST_ADDRESS = 9_999_999
"""Addresses have up to seven digits (common practice, no source)."""
