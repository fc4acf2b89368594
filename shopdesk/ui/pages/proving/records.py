"""Earlier readings of one proof, newest first, with what they amounted to and their curve."""

from collections.abc import Sequence

from PySide6.QtWidgets import QWidget

from shopdesk.domain.curve import over_earlier
from shopdesk.drawing.chart import chart_of
from shopdesk.services.proving import ProofRecord
from shopdesk.ui.context import Context
from shopdesk.ui.pictures.window import PhotoWindow
from shopdesk.ui.proof_words import MARKS
from shopdesk.ui.widgets.boxes import emptied, upright
from shopdesk.ui.widgets.headings import Heading, Note, Words
from shopdesk.ui.widgets.line_chart import LineChart
from shopdesk.ui.widgets.photo_strip import Photo, PhotoStrip
from shopdesk.wording import say


class Records(QWidget):
    """Reads only; nothing on record is ever changed."""

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context, self._region = context, context.region
        self.shown: tuple[ProofRecord, ...] = ()
        self._box = upright(gap="small")
        self.setLayout(self._box)

    def show_records(self, records: Sequence[ProofRecord]) -> None:
        """Those of one kind, oldest first; an empty list says so."""
        newest = tuple(reversed(records))
        if newest == self.shown and self._box.count():
            return
        self.shown = newest
        emptied(self._box)
        self._box.addWidget(Heading(say("On record"), "strong"))
        if not newest:
            self._box.addWidget(Note(say("Readings will stand here once this proof is recorded.")))
            return
        self._add_chart(records)
        for place, record in enumerate(newest):
            self._add(record, superseded=place > 0)

    def _add_chart(self, records: Sequence[ProofRecord]) -> None:
        drawn = [record for record in records if record.curves]
        if not drawn:
            return
        earlier = [curve for record in reversed(drawn[:-1]) for curve in record.curves]
        for curve in drawn[-1].curves:
            chart = LineChart()
            self._box.addWidget(chart)
            chart.show_chart(chart_of(over_earlier(curve, earlier), self._region))

    def _add(self, record: ProofRecord, *, superseded: bool) -> None:
        head = say(
            "{mark} {result}, {when}, {who}", mark=MARKS[record.result], result=say(record.result),
            when=self._region.instant(record.at), who=record.by,
        )  # fmt: skip
        if superseded:
            head = say("{line} - made again since", line=head)
        self._box.addWidget(Words(head, "strong"))
        for text in record.says:
            self._box.addWidget(Words(text))
        readings = "; ".join(f"{name}: {value}" for name, value in record.readings)
        lines = [
            readings,
            say("With: {tools}", tools=record.instrument) if record.instrument else "",
            say("Limit: {limit} ({source})", limit=record.limit, source=record.source),
            say("Signed by {name}.", name=record.signed_by) if record.signed_by else "",
            record.note,
        ]
        self._box.addWidget(Note("\n".join(line for line in lines if line)))
        if record.pictures:
            self._box.addWidget(self._pictures(record))

    def _pictures(self, record: ProofRecord) -> PhotoStrip:
        """The pictures taken with it; Return or a double click shows one large."""
        photos = [Photo(p.id, p.caption, p.thumbnail) for p in record.pictures]
        strip = PhotoStrip(self._context.dialogs, may_add=False)
        strip.show_photos(photos)
        strip.opened.connect(lambda key: PhotoWindow(self, self._context, photos).show_picture(key))
        return strip
