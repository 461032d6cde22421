#pragma once

#include <optional>

#include "camera/card_pose.h"
#include "card/card_sighting.h"
#include "dimension/analysis.h"
#include "dimension/lone_id_card.h"

namespace scantling {

/// A photo whose card is found and whose camera stands: the common ground of the views that
/// measure in the card's plane.
struct PlaneScene {
  Photo photo;
  CardSighting sighting;
  CardPose pose;
  CameraPrior camera;                      ///< what was believed of it before the card's say
  std::string camera_source;               ///< plain words: from where the camera is known
  const CameraProfile* profile = nullptr;  ///< that served; of the options' shelf
  double card_blur_px = 0;                 ///< sigma of the blur on the card's own printed edges
  double card_white = 0;  ///< linear light of the card's white and black near the part
  double card_black = 0;
  std::vector<Check> checks;
  Timing_ms timing_ms;
};

struct PlaneSceneResult {
  std::optional<PlaneScene> scene;  ///< nothing when a check says stop
  std::vector<Check> checks;
  Timing_ms timing_ms;
};

/// Finds the card, solves the pose, and runs the photo checks that any plane view needs.
PlaneSceneResult set_up_plane_scene(PhotoLoad load, const CardDefinition& card,
                                    const MeasureOptions& options);

/// The same with an ID-1 card beside the part as the only thing of known size. `scale` receives the
/// reference's own scale and uncertainty. The part is taken to be on the card's right; with
/// id_card_with_part() as the sighting's card, the scene serves for the left.
PlaneSceneResult set_up_id_card_scene(PhotoLoad load, const MeasureOptions& options,
                                      SheetScale& scale);

CardSummary summarise_card(const PlaneScene& scene);

}  // namespace scantling
