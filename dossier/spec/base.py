"""What all models of the spec share."""

import os

# No package that happens to be installed may change how a spec is read; nor is there time to search them all for one.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

from pydantic import BaseModel, ConfigDict


class Model(BaseModel):
    """A section of the spec: keys that are not named in it are errors, and nothing changes it once it is read."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)
