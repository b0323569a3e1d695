"""The writing page: a scene's text on paper, its proof marks in the margin."""
