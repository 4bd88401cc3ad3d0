"""Flags: pure functions of one loaded job. No session, no disk, no screen."""
