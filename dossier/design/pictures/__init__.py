"""What pictures of a design are made of: arrays worked out when asked for, each with what it was made from.

Nothing here is loaded or worked out for the results themselves. The numbers come from the inputs that the design's
results remember, so that a picture and a result can only agree; what is asked for twice is worked out once.
"""

from __future__ import annotations

from dossier.calc.optics.mirror import Floats
from dossier.calc.optics.straylight import Sight
from dossier.design.pictures.bench import (
    BenchPictures,
    BenchProfile,
    BenchRow,
    ZoneMask,
    bench_pictures,
    bench_profile_of,
    zone_mask_of,
)
from dossier.design.pictures.budget import BudgetLine, StrehlBudget, strehl_budget
from dossier.design.pictures.curves import (
    ContrastCurves,
    EnergyCurves,
    StrehlCurve,
    WavefrontProfile,
    contrast_curves,
    encircled_energy,
    strehl_curve,
    wavefront_profile,
)
from dossier.design.pictures.field import (
    IlluminationCurve,
    SpotMatrix,
    illumination_curve,
    magnitudes_lost,
    share_at,
    spot_matrix,
)
from dossier.design.pictures.light import Foci, Light, foci_of, light_of
from dossier.design.pictures.paths import SightView, StraySights, View, sight_views, stray_sights
from dossier.design.pictures.seen import (
    DoubleStarView,
    PlanetView,
    Seer,
    StarImages,
    StarTest,
    double_star_view,
    planet_view,
    star_images,
    star_test,
    tens,
)

__all__ = [
    "BenchPictures", "BenchProfile", "BenchRow", "BudgetLine", "ContrastCurves", "DoubleStarView", "EnergyCurves",
    "Floats", "Foci", "IlluminationCurve", "Light", "PlanetView", "Seer", "Sight", "SightView", "SpotMatrix",
    "StarImages", "StarTest", "StraySights", "StrehlBudget", "StrehlCurve", "View", "WavefrontProfile", "ZoneMask",
    "bench_pictures", "bench_profile_of", "contrast_curves", "double_star_view", "encircled_energy", "foci_of",
    "illumination_curve", "light_of", "magnitudes_lost", "planet_view", "share_at", "sight_views", "spot_matrix",
    "star_images", "star_test", "stray_sights", "strehl_budget", "strehl_curve", "tens", "wavefront_profile",
    "zone_mask_of",
]
