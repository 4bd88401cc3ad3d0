"""The line edit of a cell: whatever keys come, the caret stays inside a line of bounded length."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from fieldbook.screens.job.line_edit import LONGEST, LineEdit

KEYS = ("left", "right", "home", "end", "backspace", "delete", "ctrl+u", "ctrl+w")


@given(st.text(max_size=30), st.lists(st.sampled_from(KEYS) | st.text(min_size=2, max_size=4)))
def test_any_keys_keep_the_caret_inside_the_line(text: str, keys: list[str]) -> None:
    edit = LineEdit.at_end(text)
    for key in keys:
        if not edit.key(key):
            edit.insert(key)
        assert 0 <= edit.caret <= len(edit.text) <= LONGEST
        shown, caret = edit.window(12)
        assert cell_len(shown) <= 12 + 2
        assert 0 <= caret <= len(shown)


def test_text_can_be_typed_in_the_middle() -> None:
    edit = LineEdit.at_end("2 psi")
    edit.key("home")
    edit.insert("6")
    assert (edit.text, edit.caret) == ("62 psi", 1)
    edit.key("end")
    edit.key("ctrl+w")
    assert edit.text == "62 "
    edit.key("left")
    edit.key("backspace")
    assert edit.text == "6 "
    edit.key("ctrl+u")
    edit.key("delete")
    assert edit.text == ""


def test_text_beyond_the_longest_line_is_left_out() -> None:
    edit = LineEdit.at_end("")
    edit.insert("x" * 999)
    assert len(edit.text) == LONGEST
