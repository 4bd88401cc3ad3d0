"""fieldbook: the job record of a residential irrigation installer, from street to controller."""

__version__ = "0.1.0"
