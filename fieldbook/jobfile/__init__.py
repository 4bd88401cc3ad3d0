"""The job file: one JSON document a job, read with suspicion and written always alike."""
