#pragma once

#include <opencv2/core/mat.hpp>

#include "camera/card_pose.h"
#include "card/card_sighting.h"

namespace scantling {

/// What the card's own printed edges say about the picture: how blurred, how light, how dark.
struct CardTone {
  double blur_px = 0;  ///< median sigma across edges between squares; 0 where none could be read
  double white = 0;    ///< median linear light beside those edges
  double black = 0;
  int edges = 0;
};

CardTone read_card_tone(const cv::Mat& luma, const CardPose& pose, const CardSighting& sighting);

}  // namespace scantling
