"""The thermostat card: six questions and a forced test, one at a time, the hold flame first."""
