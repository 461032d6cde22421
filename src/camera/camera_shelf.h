#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "base/check.h"
#include "camera/camera_profile.h"
#include "photo/photo.h"

namespace scantling {

/// The camera profiles at hand.
struct CameraShelf {
  std::vector<CameraProfile> profiles;
  /// The user named the profile (`--camera`): a photo that it does not fit is told so. It also
  /// serves photos that do not name their camera, where the profile's did not either.
  bool named_by_user = false;
};

/// The user's folder of profiles, <data>/cameras. Nothing is created here.
std::filesystem::path camera_folder();

struct CameraShelfLoad {
  CameraShelf shelf;
  std::vector<Check> checks;  ///< `warn`, one a file that can't be used
};

/// Every *.json in the folder, by name; an absent folder is an empty shelf.
CameraShelfLoad load_camera_shelf(const std::filesystem::path& folder = camera_folder());

/// A file name for a profile, from the camera's name, zoom and picture size: "make-model-26mm-
/// 4000x3000.json". A newer profile of the same camera takes the older one's place.
std::string profile_file_name(const CameraIdentity& camera);

/// Whether a photo was taken by the profile's camera, at its zoom, and is whole; else `why` says in
/// words what differs ("it was taken by ...").
struct ProfileMatch {
  bool fits = false;
  std::string why;
};
ProfileMatch match_profile(const CameraProfile& profile, const Photo& photo, bool named_by_user);

/// What is known of a photo's camera and from where.
struct CameraKnowledge {
  CameraPrior prior;
  bool from_profile = false;
  const CameraProfile* profile = nullptr;  ///< the one that served, on the shelf
  std::vector<Check> checks;  ///< "camera_profile_unfit" (warn), "camera_unknown" (info)
};

/// The newest fitting profile, else what EXIF says.
CameraKnowledge camera_knowledge(const Photo& photo, const CameraShelf* shelf);

}  // namespace scantling
