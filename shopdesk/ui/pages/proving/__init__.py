"""Proofs of one range: what is due, the guided form of each, earlier readings, the release, instruments."""
