"""The training of the model that finds words left out and wrong words."""
