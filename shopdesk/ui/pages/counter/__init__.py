"""The counter: a job found by any scrap, and everything the desk does with it from quote to settled."""
