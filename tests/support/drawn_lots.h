#pragma once

#include "support/drawn_math.h"
#include "support/drawn_scene.h"

namespace scantling::drawn {

/// One of three values by difficulty.
double by(Difficulty difficulty, double easy, double normal, double hard);
/// Normal about zero, never beyond 2.5 sigma.
double clamped_normal(Random& random, double sigma);
/// Easy, normal or hard in the shares that owners' photos were taken to have.
Difficulty random_difficulty(std::uint32_t seed);

/// Parts of a scene by lot, for every kind of drawn photo.
void choose_picture(DrawnCamera& camera, Random& random, double megapixels);
void choose_camera(DrawnCamera& camera, Random& random, Difficulty d);
void choose_card(DrawnCard& card, DrawnDeclared& declared, Random& random, Difficulty d);
void choose_place(DrawnPlace& place, Random& random, Difficulty d);

}  // namespace scantling::drawn
