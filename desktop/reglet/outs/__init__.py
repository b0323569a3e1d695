"""Words left out and wrong words, seen by a small model of our own that reads beside the writer.

    reader = at_hand.reader()                    # one for the process; raises ReaderMissing
    reader.suspicions(["He went the shop.", "It was to late."])

The model lies in `resources/outs`, with a card that says what it is and how well it does;
`packaging/outs_model` made it. Nothing here knows of books or overlays.
"""
