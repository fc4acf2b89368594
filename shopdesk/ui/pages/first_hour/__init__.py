"""The first hour with a new shop."""
