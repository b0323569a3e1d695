"""Drafts in (.docx, .odt, .txt, .md), manuscripts, e-books and pages out (.docx, .epub, .pdf, .md).

proposal = read_draft(Path("draft.docx"))   # look at proposal.divisions and proposal.report
book = proposal.join(120).book()            # put it right, then make the book
write_docx(book, Path("manuscript.docx"))

Pages to print are asked for in `print_out`, which loads all that sets type.
"""

from reglet.exchange.docx_out import write_docx
from reglet.exchange.draft import Finding, Progress
from reglet.exchange.epub_out import write_epub
from reglet.exchange.markdown_out import write_markdown
from reglet.exchange.proposal import Division, Kind, Proposal, Role, Use
from reglet.exchange.reading import read_draft
from reglet.exchange.returned_copy import ReturnedCopy, TakenBack, read_returned, take_back

__all__ = [
    "Division",
    "Finding",
    "Kind",
    "Progress",
    "Proposal",
    "ReturnedCopy",
    "Role",
    "TakenBack",
    "Use",
    "read_draft",
    "read_returned",
    "take_back",
    "write_docx",
    "write_epub",
    "write_markdown",
]
