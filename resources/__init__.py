"""Word lists, icons, templates and other data that Reglet reads; see reglet.resources."""
