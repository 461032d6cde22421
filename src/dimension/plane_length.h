#pragma once

#include <optional>

#include "dimension/plane_scene.h"

namespace scantling {

/// The distance between two places of the photo, measured on the card's printed face as if it went
/// on beyond the card: with the card's pose and scale, and each end placed by hand to about 0.7 px
/// (standard uncertainty). Nothing where a ray does not meet that plane within a metre of the card.
std::optional<PlaneLength> length_in_card_plane(const PlaneScene& scene, const SheetScale& scale,
                                                Point_px a, Point_px b);

}  // namespace scantling
