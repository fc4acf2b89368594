"""What a shop brings in of its older books: customers, parts and open jobs, each as the target of a table.

Each recognises what it brought in before, by the number of the older books or by what tells a line from
others, so that a table may be brought in again when it grew. `tables_in` does the reading and the trial.
"""
