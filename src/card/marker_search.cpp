#include "card/marker_search.h"

#include <algorithm>
#include <opencv2/aruco.hpp>
#include <opencv2/imgproc.hpp>
#include <set>

#include "card/cards_in_photo.h"

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

std::vector<FoundMarker> detect_all(const cv::Mat& picture, double scale, bool patient) {
  static const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_250);
  std::vector<std::vector<cv::Point2f>> corners;
  std::vector<int> ids;
  cv::aruco::detectMarkers(picture, dictionary, corners, ids, detector(scale > 1.5, patient));
  std::vector<FoundMarker> found;
  for (std::size_t i = 0; i < ids.size(); ++i) {
    FoundMarker marker{ids[i], {}};
    for (const cv::Point2f& p : corners[i])
      marker.corners.push_back({(p.x + 0.5) * scale - 0.5, (p.y + 0.5) * scale - 0.5});
    found.push_back(std::move(marker));
  }
  return found;
}

bool has_marker(const CardDefinition& card, int id) {
  const int index = id - card.first_marker_id;
  return index >= 0 && index < static_cast<int>(card.markers.size()) &&
         card.markers[static_cast<std::size_t>(index)].state == CutState::present;
}

std::vector<FoundMarker> detect(const cv::Mat& picture, double scale, const CardDefinition& card,
                                bool patient) {
  std::vector<FoundMarker> found = detect_all(picture, scale, patient);
  std::erase_if(found, [&](const FoundMarker& m) { return !has_marker(card, m.id); });
  return found;
}

// Halving with area averaging keeps modules clean; a quarter of 12 megapixels is about 1 MP.
std::vector<cv::Mat> halved_levels(const cv::Mat& luma) {
  std::vector<cv::Mat> levels{luma};
  while (std::max(levels.back().cols, levels.back().rows) > 1300 && levels.size() < 5) {
    cv::Mat half;
    cv::resize(levels.back(), half, {}, 0.5, 0.5, cv::INTER_AREA);
    levels.push_back(half);
  }
  return levels;
}

}  // namespace

std::vector<FoundMarker> search_markers(const cv::Mat& luma, const CardDefinition& card, int enough,
                                        SearchEffort effort) {
  const std::vector<cv::Mat> levels = halved_levels(luma);
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

std::vector<CardPresence> cards_in_photo(const cv::Mat& luma) {
  if (std::min(luma.cols, luma.rows) < 48) return {};  // the detector takes no empty picture
  const CardDefinition* const cards[] = {&notch_card(), &track_card(), &track_card_b(),
                                         &ground_sheet()};
  const std::vector<cv::Mat> levels = halved_levels(luma);
  std::set<int> ids;
  const auto look = [&](std::size_t level, bool patient) {
    const double scale = static_cast<double>(luma.cols) / levels[level].cols;
    for (const FoundMarker& marker : detect_all(levels[level], scale, patient))
      ids.insert(marker.id);
  };
  const auto present = [&] {
    std::vector<CardPresence> seen;
    for (const CardDefinition* card : cards) {
      const auto markers =
          std::count_if(ids.begin(), ids.end(), [&](int id) { return has_marker(*card, id); });
      if (markers >= 2) seen.push_back({card, static_cast<int>(markers)});
    }
    std::stable_sort(seen.begin(), seen.end(), [](const CardPresence& a, const CardPresence& b) {
      return a.markers > b.markers;
    });
    return seen;
  };
  // The two smallest pictures: small cards decode on the finer one, large ones on either.
  for (std::size_t level = levels.size();
       level-- > levels.size() - std::min<std::size_t>(2, levels.size());)
    look(level, false);
  // A small card on the large sheet may show in the whole picture only.
  const std::vector<CardPresence> seen = present();
  if (levels.size() > 2 && seen.size() == 1 && seen.front().card == &ground_sheet())
    look(levels.size() - 3, false);
  for (std::size_t level = levels.size(); level-- > 0 && present().empty();) look(level, true);
  return present();
}

}  // namespace scantling
