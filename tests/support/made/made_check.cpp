#include "made_check.h"

#include <turbojpeg.h>

#include <cmath>
#include <fstream>
#include <iterator>
#include <memory>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <stdexcept>
#include <vector>

#include "made_truth.h"

namespace scantling::made {

namespace {

cv::Mat read_gray_upright(const std::filesystem::path& file, int orientation) {
  std::ifstream stream(file, std::ios::binary);
  const std::vector<unsigned char> bytes{std::istreambuf_iterator<char>(stream), {}};
  const std::unique_ptr<void, int (*)(tjhandle)> decoder(tjInitDecompress(), tjDestroy);
  int width = 0, height = 0, subsampling = 0, space = 0;
  if (tjDecompressHeader3(decoder.get(), bytes.data(), bytes.size(), &width, &height, &subsampling,
                          &space) != 0) {
    throw std::runtime_error("not a JPEG: " + file.string());
  }
  cv::Mat stored(height, width, CV_8UC1);
  if (tjDecompress2(decoder.get(), bytes.data(), bytes.size(), stored.data, width, 0, height,
                    TJPF_GRAY, TJFLAG_ACCURATEDCT) != 0) {
    throw std::runtime_error("damaged JPEG: " + file.string());
  }
  cv::Mat upright = stored;
  if (orientation == 3) cv::rotate(stored, upright, cv::ROTATE_180);
  if (orientation == 6) cv::rotate(stored, upright, cv::ROTATE_90_CLOCKWISE);
  if (orientation == 8) cv::rotate(stored, upright, cv::ROTATE_90_COUNTERCLOCKWISE);
  return upright;
}

}  // namespace

CornerCheck check_corners(const Scene& scene, const std::filesystem::path& photo) {
  const cv::Mat gray = read_gray_upright(photo, scene.photo.orientation);
  const auto truth = truth_of(scene);
  std::vector<cv::Point2f> expected, found;
  // The window stays clear of the markers, foreshortened as they are.
  const auto add = [&](const nlohmann::ordered_json& corners, double window_px) {
    std::vector<cv::Point2f> places;
    for (const auto& corner : corners)
      places.emplace_back(corner["px"][0].get<float>(), corner["px"][1].get<float>());
    if (places.empty()) return;
    expected.insert(expected.end(), places.begin(), places.end());
    const int half = std::max(6, static_cast<int>(window_px));
    cv::cornerSubPix(gray, places, {half, half}, {-1, -1},
                     {cv::TermCriteria::COUNT + cv::TermCriteria::EPS, 60, 1e-4});
    found.insert(found.end(), places.begin(), places.end());
  };
  if (scene.view == "pad")
    add(truth["card_corners_px"], 0.8 * truth["pose"]["px_per_mm"].get<double>());
  else
    for (const auto& card : truth["cards"])
      add(card["corners_px"],
          0.8 * card["marker_gap_mm"].get<double>() * card["px_per_mm"].get<double>() *
              std::cos(card["tilt_deg"].get<double>() * std::numbers::pi / 180));
  CornerCheck check;
  for (size_t i = 0; i < found.size(); ++i) {
    const cv::Point2f d = found[i] - expected[i];
    ++check.corners;
    check.mean_x_px += d.x;
    check.mean_y_px += d.y;
    check.rms_px += d.dot(d);
    check.worst_px = std::max(check.worst_px, std::sqrt(static_cast<double>(d.dot(d))));
  }
  check.mean_x_px /= check.corners;
  check.mean_y_px /= check.corners;
  check.rms_px = std::sqrt(check.rms_px / check.corners);
  return check;
}

}  // namespace scantling::made
