"""Settings for every test."""

import os

from hypothesis import Phase, settings

# Making a failing chart smaller takes minutes; it is readable as it is.  CHARTKIT_SHRINK=1
# asks for the smallest one.
PROMPT = (Phase.explicit, Phase.reuse, Phase.generate)
# Where changes are judged (CI=true) random charts are the same each time, so that the verdict is
# about the change; everywhere else every run tries new ones.
settings.register_profile("prompt", phases=PROMPT, derandomize=bool(os.environ.get("CI")))
if not os.environ.get("CHARTKIT_SHRINK"):
    settings.load_profile("prompt")
