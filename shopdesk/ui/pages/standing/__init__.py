"""Where a range stands, for whoever asks on the telephone, and the papers that tell the customer."""
