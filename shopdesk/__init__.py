"""shopdesk: the job-management program of a workshop that restores vintage household gas ranges."""

__version__ = "0.3.0"
