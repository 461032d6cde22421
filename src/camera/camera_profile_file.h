#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/check.h"
#include "camera/camera_profile.h"

namespace scantling {

/// A profile, or why there is none: one `stop` check "camera_profile_unreadable".
struct CameraProfileLoad {
  std::optional<CameraProfile> profile;
  std::vector<Check> checks;
};

/// A profile's file is at most this long; a longer one is not read.
inline constexpr std::size_t kLongestProfile_bytes = 64 * 1024;

/// The profile as readable JSON (version 1). @throws std::invalid_argument when a number of it is
/// outside what `profile_from_text` takes.
std::string profile_to_text(const CameraProfile& profile);

/// Takes nothing that the writer could not have written: every member, no other member, every
/// number finite and in its range, the covariance symmetric and positive. `name` is the file's name
/// for the messages. Never throws for bad text.
CameraProfileLoad profile_from_text(std::string_view text, const std::string& name);

CameraProfileLoad load_camera_profile(const std::filesystem::path& path);

}  // namespace scantling
