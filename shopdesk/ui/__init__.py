"""The window: pages, widgets and models. Knows services, wording and values; no storage, papers or SQL.

How to write a page
-------------------
A page is a folder `shopdesk/ui/pages/<place>/`: an `__init__.py` with a docstring and nothing else,
`page.py` with the class that `ui/places.py` names, and files of its own beside it. Nothing else has to be
registered. Pages never import each other; they meet through `context`.

    class FloorPage(Page):
        place = "floor"

        def __init__(self, context: Context) -> None:
            super().__init__(context)
            self._list = ListTable(
                say("Ranges in the shop"), COLUMNS, key=lambda row: row.range_id,
                empty=say("Ranges you book in will stand here."),
                first=(say("Book a range in"), self._book_in),
                memory=context.memory, remembered="floor/ranges",
            )
            self._list.opened.connect(context.open_jacket)
            self.setLayout(upright([Heading(say("Floor"), "head"), self._list], margin="wide"))

        def refresh(self, topics: Topics) -> None:
            if topics & {"everything", "jobs"}:
                self.ask(floor_rows, self._list.show_rows, key="rows")

        def focusFirst(self) -> None:
            self._list.focusFirst()

`Page`: `place`, `refresh(topics)`, `focusFirst()`, `open_on(**what)`, `keep_draft()`; `self.context`,
`self.ask(question, then, failed=None, key="")`, `self.do(action, then=None, failed=None, changes=[...])`.
`question` and `action` take the Seat, run in a worker and must not touch widgets; `then` and `failed` run
in the GUI thread and are dropped once the page is gone. Read fields before `do`, not inside `action`.

`Context`: `seat`, `region`, `may(action)`, `ask`, `do`, `announce(*topics)`, `tell(text, step_name, step)`,
`tell_problem(problem)`, `go(place, **what)`, `open_jacket(range_id)`, `dialogs`, `memory`, `drafts`,
`show_paper(number or bytes, title, kind)`, `leave_shop()`, `view` (light or dark, text size);
signals `changed(topics)`, `seatChanged`.

Topics are plain words. Every change names its record and its kind: "job 12" with "jobs", "range 7" with
"ranges"; "people", "staff", "stores", "money", "papers", "settings", "catalogue". After "settings" or
"catalogue" the seat is read anew before pages refresh.

Forms: `Form.add(name, label, field, required=..., note=...)` with fields of `widgets.fields`,
`Form.on_save(text, save)`, `Form.values()`, `Form.show_values(...)`, `failed=form.show_problem` (beside
the field that `Problem.field` names), `Form.remember(context.drafts, "intake/new")` and `Form.saved()`.

Texts go through `say`, figures through `context.region`. Widgets: `widgets/` has form, fields, list_table,
search_field, headings, buttons, boxes, severity_mark, photo_strip, paper_viewer, empty_state, page_scroll.

Tests of a page: `tests/ui/conftest.py` gives `context` (the owner's seat at a new shop on a real file),
`settled()` (all answers have come), `dialogs` (answers for the person), `view`, and `unnamed(widget)` (the
controls a screen reader could not name; must be empty). A shortcut or focus needs a shown, active window:
`with qtbot.waitActive(page): page.show(); page.activateWindow()`.
"""
