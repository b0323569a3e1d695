"""Drafts in, manuscripts out: .docx, .txt and .md.

proposal = read_draft(Path("draft.docx"))   # look at proposal.divisions and proposal.report
book = proposal.join(120).book()            # put it right, then make the book
write_docx(book, Path("manuscript.docx"))
"""

from reglet.exchange.docx_out import write_docx
from reglet.exchange.draft import Finding, Progress
from reglet.exchange.markdown_out import write_markdown
from reglet.exchange.proposal import Division, Kind, Proposal, Role, Use
from reglet.exchange.reading import read_draft

__all__ = [
    "Division",
    "Finding",
    "Kind",
    "Progress",
    "Proposal",
    "Role",
    "Use",
    "read_draft",
    "write_docx",
    "write_markdown",
]
