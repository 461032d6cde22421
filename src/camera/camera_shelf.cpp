#include "camera/camera_shelf.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/paths.h"
#include "camera/camera_prior.h"
#include "camera/camera_profile_file.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

PictureSize turned(PictureSize size) {
  return {size.height_px, size.width_px};
}

bool whole_picture(const Photo& photo) {
  const CameraTags& tags = photo.tags;
  if (!tags.exif_width_px || !tags.exif_height_px) return true;
  const PictureSize written{*tags.exif_width_px, *tags.exif_height_px};
  const PictureSize has{photo.width_px(), photo.height_px()};
  return has == written || has == turned(written);
}

}  // namespace

fs::path camera_folder() {
  return user_data_folder() / "cameras";
}

CameraShelfLoad load_camera_shelf(const fs::path& folder) {
  CameraShelfLoad load;
  std::error_code fault;
  std::vector<fs::path> files;
  for (fs::directory_iterator it(folder, fault), end; !fault && it != end; it.increment(fault))
    if (it->path().extension() == ".json") files.push_back(it->path());
  std::sort(files.begin(), files.end());
  for (const fs::path& file : files) {
    CameraProfileLoad one = load_camera_profile(file);
    if (one.profile) load.shelf.profiles.push_back(std::move(*one.profile));
    for (Check& check : one.checks) {
      check.severity = Severity::warn;
      load.checks.push_back(std::move(check));
    }
  }
  return load;
}

std::string profile_file_name(const CameraIdentity& camera) {
  std::string name;
  const auto add = [&](const std::string& text) {
    for (const char c : text) {
      const auto u = static_cast<unsigned char>(c);
      if (u < 128 && std::isalnum(u))
        name += static_cast<char>(std::tolower(u));
      else if (!name.empty() && name.back() != '-')
        name += '-';
    }
    if (!name.empty() && name.back() != '-') name += '-';
  };
  add(camera.named() ? camera.words() : "camera");
  if (camera.focal_length_35mm) add(fmt::format("{:.0f}mm", *camera.focal_length_35mm));
  return name + fmt::format("{}x{}.json", camera.sensor.width_px, camera.sensor.height_px);
}

ProfileMatch match_profile(const CameraProfile& profile, const Photo& photo, bool named_by_user) {
  const PictureSize upright{photo.width_px(), photo.height_px()};
  const CameraIdentity taken = identity_of(photo.tags, upright, photo.exif_orientation);
  const CameraIdentity& known = profile.camera;
  if (!whole_picture(photo))
    return {false, "it was cropped or resized after it was taken: use the original file"};
  if (std::string why = difference_between(known, taken, "the profile's photos"); !why.empty())
    return {false, std::move(why)};
  if (!taken.named() && !named_by_user) return {false, "it does not name its camera"};
  if (orientation_mirrors(photo.exif_orientation)) return {false, "it is mirrored"};
  return {true, {}};
}

CameraKnowledge camera_knowledge(const Photo& photo, const CameraShelf* shelf) {
  CameraKnowledge knowledge;
  const CameraProfile* best = nullptr;
  if (shelf) {
    for (const CameraProfile& profile : shelf->profiles) {
      const ProfileMatch match = match_profile(profile, photo, shelf->named_by_user);
      if (match.fits) {
        if (!best || profile.made_on > best->made_on) best = &profile;
      } else if (shelf->named_by_user) {
        knowledge.checks.push_back(
            {"camera_profile_unfit", Severity::warn,
             fmt::format("The camera profile of {} does not fit this photo: {}. The lens is "
                         "reckoned from the photo itself instead.",
                         profile.camera.words(), match.why)});
      }
    }
  }
  if (best) {
    knowledge.prior =
        camera_prior(*best, {photo.width_px(), photo.height_px()}, photo.exif_orientation);
    knowledge.from_profile = true;
    knowledge.profile = best;
    return knowledge;
  }
  knowledge.prior = camera_prior(photo.tags, photo.width_px(), photo.height_px());
  if (knowledge.prior.focal_relative_u > 0.1)
    knowledge.checks.push_back(
        {"camera_unknown", Severity::info,
         "The photo does not name its focal length, so the camera is less sure. Use the phone's "
         "original file, not a forwarded copy."});
  return knowledge;
}

}  // namespace scantling
