"""What goes out to the bookkeeper: the papers and the money of a period, as tables and as files."""

from shopdesk.services.books.files import BooksWritten, write_books
from shopdesk.services.books.journal import Books, books

__all__ = ["Books", "BooksWritten", "books", "write_books"]
