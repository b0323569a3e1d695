"""The overlays of the Proof stage, one file each."""
