"""What all models of the spec share."""

from pydantic import BaseModel, ConfigDict


class Model(BaseModel):
    """A section of the spec: keys that are not named in it are errors, and nothing changes it once it is read."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)
