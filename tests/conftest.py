"""Settings for every test."""

import os

from hypothesis import Phase, settings

# Making a failing chart smaller takes minutes; it is readable as it is.  CHARTKIT_SHRINK=1
# asks for the smallest one.
PROMPT = (Phase.explicit, Phase.reuse, Phase.generate)
settings.register_profile("prompt", phases=PROMPT)
if not os.environ.get("CHARTKIT_SHRINK"):
    settings.load_profile("prompt")
