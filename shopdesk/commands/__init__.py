"""The commands of the command line that need more than a few lines; `shopdesk.cli` mounts them."""
