#include "card/marker_search.h"

#include <algorithm>
#include <opencv2/aruco.hpp>
#include <opencv2/imgproc.hpp>

namespace scantling {
namespace {

cv::Ptr<cv::aruco::DetectorParameters> detector(bool coarse, bool patient) {
  auto parameters = cv::aruco::DetectorParameters::create();
  // One threshold window finds nearly all; the ladder costs twice the time and is the second try.
  parameters->adaptiveThreshWinSizeMin = patient ? 7 : 23;
  parameters->adaptiveThreshWinSizeMax = patient ? 55 : 23;
  parameters->adaptiveThreshWinSizeStep = 16;
  parameters->minMarkerPerimeterRate = coarse ? 0.02 : 0.01;
  parameters->perspectiveRemovePixelPerCell = 8;
  parameters->perspectiveRemoveIgnoredMarginPerCell = 0.25;
  parameters->cornerRefinementMethod = cv::aruco::CORNER_REFINE_NONE;
  return parameters;
}

std::vector<FoundMarker> detect(const cv::Mat& picture, double scale, const CardDefinition& card,
                                bool patient) {
  static const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_250);
  std::vector<std::vector<cv::Point2f>> corners;
  std::vector<int> ids;
  cv::aruco::detectMarkers(picture, dictionary, corners, ids, detector(scale > 1.5, patient));
  std::vector<FoundMarker> found;
  const int last = card.first_marker_id + static_cast<int>(card.markers.size());
  for (std::size_t i = 0; i < ids.size(); ++i) {
    if (ids[i] < card.first_marker_id || ids[i] >= last) continue;
    const auto index = static_cast<std::size_t>(ids[i] - card.first_marker_id);
    if (card.markers[index].state != CutState::present) continue;
    FoundMarker marker{ids[i], {}};
    for (const cv::Point2f& p : corners[i])
      marker.corners.push_back({(p.x + 0.5) * scale - 0.5, (p.y + 0.5) * scale - 0.5});
    found.push_back(std::move(marker));
  }
  return found;
}

}  // namespace

std::vector<FoundMarker> search_markers(const cv::Mat& luma, const CardDefinition& card, int enough,
                                        SearchEffort effort) {
  // Halving with area averaging keeps modules clean; a quarter of 12 megapixels is about 1 MP.
  std::vector<cv::Mat> levels{luma};
  while (std::max(levels.back().cols, levels.back().rows) > 1300 && levels.size() < 5) {
    cv::Mat half;
    cv::resize(levels.back(), half, {}, 0.5, 0.5, cv::INTER_AREA);
    levels.push_back(half);
  }
  std::vector<FoundMarker> best;
  for (const bool patient : {false, true}) {
    if (patient && effort == SearchEffort::quick) break;
    for (std::size_t level = levels.size(); level-- > 0;) {
      // Whole-picture searches at full size are slow and only help with very small cards.
      if (patient && level + 1 < levels.size() && level == 0 && best.size() >= 4) break;
      const double scale = static_cast<double>(luma.cols) / levels[level].cols;
      auto found = detect(levels[level], scale, card, patient);
      if (found.size() > best.size()) best = std::move(found);
      if (static_cast<int>(best.size()) >= enough) return best;
      if (levels[level].total() > 14'000'000) break;
    }
  }
  return best;
}

}  // namespace scantling
