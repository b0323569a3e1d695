"""The overlays of the Structure stage, one file each."""
