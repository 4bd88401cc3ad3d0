"""The keys of the keymap as Textual's bindings of a screen."""

from __future__ import annotations

from textual.binding import Binding, BindingType

from fieldbook.actions.keymap import ACTIONS, Where


def action_bindings(where: Where) -> list[BindingType]:
    """A binding for each action of the board, or of a place; its id is what a remap goes by."""
    return [
        Binding(
            ",".join(action.keys),
            f"do('{action.name}')",
            action.label,
            show=False,
            id=action.name,
        )
        for action in ACTIONS
        if where in action.where
    ]
