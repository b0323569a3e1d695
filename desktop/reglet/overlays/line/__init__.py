"""The overlays of the Line stage, one file each."""
