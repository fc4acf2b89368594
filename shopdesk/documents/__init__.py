"""Papers: frozen facts in, PDF bytes out.

One module per paper, each with `render(facts) -> bytes`; the same facts give the same bytes.
Everything shown is computed before it comes here. This room knows no database and no screen.
"""
