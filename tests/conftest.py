"""What every test stands on: no screen needed, and the same examples on every run."""

import os

from hypothesis import HealthCheck, settings

# Qt reads this when it is first imported, so it is set before any test module is loaded.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

settings.register_profile(
    "quick",
    max_examples=60,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile(
    "thorough",
    max_examples=2000,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
# REGLET_EXAMPLES=thorough looks for new counter-examples; the quick ones never change.
settings.load_profile(os.environ.get("REGLET_EXAMPLES", "quick"))
