#include "camera/camera_profile_file.h"

#include <fmt/format.h>

#include <Eigen/Eigenvalues>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <stdexcept>

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kVersion = 1;
constexpr std::size_t kLongestName = 100;

/// The reason why a text is no profile.
struct Refusal {
  std::string reason;
};

[[noreturn]] void refuse(std::string reason) {
  throw Refusal{std::move(reason)};
}

struct Range {
  double low, high;
};

// What a real camera can have; wide enough for wide-angle and telephoto lenses.
constexpr Range kFocalLength_mm{0.5, 2000}, kFocalLength_35mm{10, 200}, kSide_px{100, 100'000},
    kK1{-2, 2}, kK2{-10, 10}, kResidual_px{0, 10}, kDistance_mm{1, 100'000}, kShare{0, 1},
    kTilt_deg{0, 90}, kPhotos{1, 10'000}, kCorners{8, 10'000'000};
constexpr Range kStandardDeviation{1e-9, 1e5};

class Object {
 public:
  /// Refuses members that are not in `members`.
  Object(const Json& json, const std::string& what, std::initializer_list<const char*> members)
      : json_(json), what_(what) {
    if (!json.is_object()) refuse(what + " should be an object");
    for (const auto& item : json.items()) {
      bool known = false;
      for (const char* member : members) known = known || item.key() == member;
      if (!known) refuse(fmt::format("{} has a member that this version does not know", what));
    }
  }

  const Json& member(const char* key) const {
    const auto found = json_.find(key);
    if (found == json_.end()) refuse(fmt::format("\"{}\" is missing from {}", key, what_));
    return *found;
  }
  double number(const char* key, Range range) const { return number_of(member(key), key, range); }
  std::optional<double> number_or_null(const char* key, Range range) const {
    if (member(key).is_null()) return std::nullopt;
    return number(key, range);
  }
  int whole(const char* key, Range range) const {
    if (!member(key).is_number_integer())
      refuse(fmt::format("\"{}\" should be a whole number", key));
    return static_cast<int>(number(key, range));
  }
  std::string text(const char* key) const {
    const Json& value = member(key);
    if (!value.is_string()) refuse(fmt::format("\"{}\" should be text", key));
    const std::string text = value.get<std::string>();
    if (text.size() > kLongestName) refuse(fmt::format("\"{}\" is too long", key));
    for (const char c : text)
      if (static_cast<unsigned char>(c) < 32 || c == 127)
        refuse(fmt::format("\"{}\" holds a character that can't be printed", key));
    return text;
  }

  static double number_of(const Json& value, const char* what, Range range) {
    if (!value.is_number()) refuse(fmt::format("\"{}\" should be a number", what));
    const double number = value.get<double>();
    if (!(number >= range.low && number <= range.high))
      refuse(fmt::format("\"{}\" is {}, outside {} to {}", what, number, range.low, range.high));
    return number;
  }

 private:
  const Json& json_;
  std::string what_;
};

constexpr const char* kParameterNames[5] = {"focal_px", "centre_x_px", "centre_y_px", "k1", "k2"};

Range parameter_range(int k, PictureSize size) {
  const double longest = std::max(size.width_px, size.height_px);
  switch (k) {
    case 0:  // 10 mm to 200 mm of 35 mm film equivalent, with room
      return {0.15 * longest, 12 * longest};
    case 1:
      return {0.2 * size.width_px, 0.8 * size.width_px};
    case 2:
      return {0.2 * size.height_px, 0.8 * size.height_px};
    case 3:
      return kK1;
    default:
      return kK2;
  }
}

/// "YYYY-MM-DD".
void require_date(const std::string& date) {
  const auto digits = [&](std::size_t from, std::size_t count, int low, int high) {
    int value = 0;
    for (std::size_t i = from; i < from + count; ++i) {
      if (date[i] < '0' || date[i] > '9') return false;
      value = 10 * value + (date[i] - '0');
    }
    return value >= low && value <= high;
  };
  if (!(date.size() == 10 && date[4] == '-' && date[7] == '-' && digits(0, 4, 2000, 9999) &&
        digits(5, 2, 1, 12) && digits(8, 2, 1, 31)))
    refuse("\"made_on\" should be a date such as 2026-11-25");
}

void read_lens(const Json& json, CameraProfile& profile) {
  const Object lens(json, "\"lens\"",
                    {"focal_px", "centre_x_px", "centre_y_px", "k1", "k2", "covariance"});
  double* const values[5] = {&profile.model.focal_px, &profile.model.centre_x_px,
                             &profile.model.centre_y_px, &profile.model.k1, &profile.model.k2};
  CameraProfile::Vector u;
  for (int k = 0; k < 5; ++k) {
    const Object entry(lens.member(kParameterNames[k]), fmt::format("\"{}\"", kParameterNames[k]),
                       {"value", "standard_deviation"});
    *values[k] = entry.number("value", parameter_range(k, profile.camera.sensor));
    u[k] = entry.number("standard_deviation", kStandardDeviation);
  }
  const Json& rows = lens.member("covariance");
  if (!rows.is_array() || rows.size() != 5) refuse("\"covariance\" should have 5 rows");
  for (int i = 0; i < 5; ++i) {
    const Json& row = rows[static_cast<std::size_t>(i)];
    if (!row.is_array() || row.size() != 5) refuse("\"covariance\" should have 5 columns");
    for (int k = 0; k < 5; ++k)
      profile.covariance(i, k) =
          Object::number_of(row[static_cast<std::size_t>(k)], "covariance", {-1e10, 1e10});
  }
  // Judged as correlations: the variances differ by ten orders of magnitude.
  const CameraProfile::Matrix correlation =
      u.cwiseInverse().asDiagonal() * profile.covariance * u.cwiseInverse().asDiagonal();
  for (int k = 0; k < 5; ++k)
    if (!(std::abs(correlation(k, k) - 1) < 1e-6))
      refuse(fmt::format("the covariance contradicts the standard deviation of \"{}\"",
                         kParameterNames[k]));
  if (!((correlation - correlation.transpose()).cwiseAbs().maxCoeff() < 1e-9))
    refuse("the covariance is not symmetric");
  const Eigen::SelfAdjointEigenSolver<CameraProfile::Matrix> eigen(correlation,
                                                                   Eigen::EigenvaluesOnly);
  if (!(eigen.eigenvalues().minCoeff() > 1e-12)) refuse("the covariance is not positive");
}

CameraProfile read_profile(const Json& root) {
  if (!root.is_object()) refuse("it should be a JSON object");
  const auto version = root.find("scantling_camera_profile");
  if (version == root.end()) refuse("\"scantling_camera_profile\" is missing");
  if (!version->is_number_integer()) refuse("its version should be a whole number");
  if (*version != kVersion)
    refuse(fmt::format("it has version {}, and this program knows version {} only", version->dump(),
                       kVersion));
  const Object file(root, "the file",
                    {"scantling_camera_profile", "made_on", "camera", "lens", "residual_px",
                     "photos", "corners", "distance_mm", "coverage"});
  CameraProfile profile;
  profile.made_on = file.text("made_on");
  require_date(profile.made_on);
  const Object camera(
      file.member("camera"), "\"camera\"",
      {"make", "model", "focal_length_mm", "focal_length_35mm", "width_px", "height_px"});
  profile.camera.make = camera.text("make");
  profile.camera.model = camera.text("model");
  profile.camera.focal_length_mm = camera.number_or_null("focal_length_mm", kFocalLength_mm);
  profile.camera.focal_length_35mm = camera.number_or_null("focal_length_35mm", kFocalLength_35mm);
  profile.camera.sensor = {camera.whole("width_px", kSide_px), camera.whole("height_px", kSide_px)};
  read_lens(file.member("lens"), profile);
  profile.residual_px = file.number("residual_px", kResidual_px);
  profile.photos = file.whole("photos", kPhotos);
  profile.corners = file.whole("corners", kCorners);
  profile.distance_mm = file.number("distance_mm", kDistance_mm);
  const Object coverage(
      file.member("coverage"), "\"coverage\"",
      {"picture_share", "tilt_left_deg", "tilt_right_deg", "tilt_far_deg", "tilt_near_deg"});
  profile.coverage = {
      coverage.number("picture_share", kShare), coverage.number("tilt_left_deg", kTilt_deg),
      coverage.number("tilt_right_deg", kTilt_deg), coverage.number("tilt_far_deg", kTilt_deg),
      coverage.number("tilt_near_deg", kTilt_deg)};
  return profile;
}

Json or_null(const std::optional<double>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json profile_json(const CameraProfile& profile) {
  const auto values = profile.parameters();
  const auto u = profile.standard_deviations();
  Json lens = Json::object();
  for (int k = 0; k < 5; ++k)
    lens[kParameterNames[k]] = {{"value", values[k]}, {"standard_deviation", u[k]}};
  Json rows = Json::array();
  for (int i = 0; i < 5; ++i) {
    Json row = Json::array();
    // The mean of both halves: rounding must not make it unsymmetric.
    for (int k = 0; k < 5; ++k)
      row.push_back((profile.covariance(i, k) + profile.covariance(k, i)) / 2);
    rows.push_back(std::move(row));
  }
  lens["covariance"] = std::move(rows);
  const ProfileCoverage& c = profile.coverage;
  return {{"scantling_camera_profile", kVersion},
          {"made_on", profile.made_on},
          {"camera",
           {{"make", profile.camera.make},
            {"model", profile.camera.model},
            {"focal_length_mm", or_null(profile.camera.focal_length_mm)},
            {"focal_length_35mm", or_null(profile.camera.focal_length_35mm)},
            {"width_px", profile.camera.sensor.width_px},
            {"height_px", profile.camera.sensor.height_px}}},
          {"lens", std::move(lens)},
          {"residual_px", profile.residual_px},
          {"photos", profile.photos},
          {"corners", profile.corners},
          {"distance_mm", profile.distance_mm},
          {"coverage",
           {{"picture_share", c.picture_share},
            {"tilt_left_deg", c.tilt_left_deg},
            {"tilt_right_deg", c.tilt_right_deg},
            {"tilt_far_deg", c.tilt_far_deg},
            {"tilt_near_deg", c.tilt_near_deg}}}};
}

CameraProfileLoad refused(const std::string& name, const std::string& reason) {
  return {std::nullopt,
          {{"camera_profile_unreadable", Severity::stop,
            fmt::format("{} can't be used as a camera profile: {}. Make it again with 'scantling "
                        "camera'.",
                        name, reason)}}};
}

}  // namespace

std::string profile_to_text(const CameraProfile& profile) {
  const Json json = profile_json(profile);
  try {
    read_profile(json);
  } catch (const Refusal& refusal) {
    throw std::invalid_argument("The camera profile can't be written: " + refusal.reason + ".");
  }
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

CameraProfileLoad profile_from_text(std::string_view text, const std::string& name) {
  if (text.size() > kLongestProfile_bytes) return refused(name, "it is too long for one");
  try {
    return {read_profile(Json::parse(text)), {}};
  } catch (const Refusal& refusal) {
    return refused(name, refusal.reason);
  } catch (const Json::exception&) {
    return refused(name, "it is no JSON text");
  }
}

CameraProfileLoad load_camera_profile(const std::filesystem::path& path) {
  const std::string name = path.filename().string();
  std::error_code fault;
  if (!std::filesystem::exists(path, fault))
    return {std::nullopt,
            {{"camera_profile_unreadable", Severity::stop,
              fmt::format("There is no camera profile \"{}\". Check the name, or make one with "
                          "'scantling camera'.",
                          path.string())}}};
  // Nothing but an ordinary file is opened, so a pipe can't hang the program.
  if (!std::filesystem::is_regular_file(path, fault)) return refused(name, "it is no file");
  std::ifstream file(path, std::ios::binary);
  std::string text(kLongestProfile_bytes + 1, '\0');
  file.read(text.data(), static_cast<std::streamsize>(text.size()));
  if (file.bad() || (file.fail() && !file.eof())) return refused(name, "it can't be read");
  text.resize(static_cast<std::size_t>(file.gcount()));
  return profile_from_text(text, name);
}

}  // namespace scantling
