"""The office: exchange with its PostgreSQL, what it keeps there, and its views."""
