"""A paper's mail draft, written into a folder that is this person's alone and opened in the mail program."""

import contextlib
from typing import TYPE_CHECKING

from shopdesk import paths
from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.widgets.paper_viewer import as_file_name
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat


def mail_of_paper(seat: "Seat", number: str) -> bytes:
    """The draft's bytes; a service, to be asked off the GUI thread."""
    from shopdesk.services.papers.mail import paper_mail

    return paper_mail(seat, number)


def open_draft(dialogs: Dialogs, number: str, content: bytes) -> str:
    """Opens the draft; answers the sentence that says what went wrong, or nothing."""
    folder = paths.data_folder() / "drafts"
    file = folder / f"{as_file_name(number)}.eml"
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        file.write_bytes(content)
    except OSError as error:
        return say("The draft was not written ({why}).", why=error.strerror or str(error))
    with contextlib.suppress(OSError):  # a file system without rights of its own
        folder.chmod(0o700)
        file.chmod(0o600)
    if dialogs.open_elsewhere(file):
        return ""
    return say("No mail program opened the draft. It lies in {path}; open it from there.", path=str(file))
