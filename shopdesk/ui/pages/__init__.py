"""The pages of the window, one folder each; `page` says what a page is. Pages never import each other."""
