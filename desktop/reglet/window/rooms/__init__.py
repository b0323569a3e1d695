"""Rooms of the Slip: see `slip` for what a room is."""
