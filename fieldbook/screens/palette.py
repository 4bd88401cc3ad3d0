"""The command palette: the actions of the registry that the screen in front offers."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from textual.command import DiscoveryHit, Hit, Hits, Provider

from fieldbook.actions.keymap import Action, Where, offered
from fieldbook.screens.board.board_screen import BoardScreen


class RegistryCommands(Provider):
    """Every action by its label."""

    def _actions(self) -> list[tuple[Action, Callable[[], None]]]:
        where: Where = "board" if isinstance(self.screen, BoardScreen) else "place"
        do = getattr(self.screen, "action_do", None)
        if do is None:
            return []
        return [(action, partial(do, action.name)) for action in offered(where)]

    async def discover(self) -> Hits:
        """All of them, before anything is typed."""
        for action, run in self._actions():
            yield DiscoveryHit(action.label, run, help=action.help)

    async def search(self, query: str) -> Hits:
        """Those whose label matches."""
        matcher = self.matcher(query)
        for action, run in self._actions():
            score = matcher.match(action.label)
            if score > 0:
                yield Hit(score, matcher.highlight(action.label), run, help=action.help)
