#include <algorithm>
#include <cmath>
#include <map>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>

#include "card/card_sighting.h"
#include "card/marker_search.h"
#include "card/refine_corner.h"
#include "card/search_effort.h"

namespace scantling {
namespace {

Check stop(std::string id, std::string message) {
  return {std::move(id), Severity::stop, std::move(message)};
}

std::string card_words(const CardDefinition& card) {
  return card.name == "notch"    ? "notch card"
         : card.name == "ground" ? "ground sheet"
                                 : "track card";
}

/// Where the card belongs, as the beginning of a sentence.
std::string placing_words(const CardDefinition& card) {
  return card.name == "notch"    ? "Stand the printed card at the part's edge"
         : card.name == "ground" ? "Have the whole sheet in the picture"
                                 : "Lay the printed card flat on the worn track, look down on it "
                                   "at 20 to 35 degrees";
}

Point_px map(const cv::Matx33d& h, Point_mm p) {
  const cv::Vec3d q = h * cv::Vec3d(p.x, p.y, 1);
  return {q[0] / q[2], q[1] / q[2]};
}

/// The lengths in px that one millimetre along x and along y takes at `p`.
std::pair<double, double> px_per_mm_at(const cv::Matx33d& h, Point_mm p) {
  return {distance_px(map(h, {p.x - 0.5, p.y}), map(h, {p.x + 0.5, p.y})),
          distance_px(map(h, {p.x, p.y - 0.5}), map(h, {p.x, p.y + 0.5}))};
}

/// Mean grey of a small cross around a place; -1 outside the picture.
double grey_at(const cv::Mat& luma, Point_px p) {
  const int x = static_cast<int>(std::lround(p.x));
  const int y = static_cast<int>(std::lround(p.y));
  if (x < 1 || y < 1 || x + 1 >= luma.cols || y + 1 >= luma.rows) return -1;
  const auto at = [&](int dx, int dy) {
    return static_cast<double>(luma.at<uchar>(y + dy, x + dx));
  };
  return (at(0, 0) * 2 + at(-1, 0) + at(1, 0) + at(0, -1) + at(0, 1)) / 6;
}

/// Black and white must meet crosswise as the card has them, else a hand, a shadow's edge or the
/// part itself lies there. Looks inside the white gap between corner and marker.
bool looks_like_corner(const cv::Mat& luma, const cv::Matx33d& h, const CardDefinition& card,
                       const CardCorner& corner, Point_px found) {
  const Point_px predicted = map(h, corner.at);
  const double reach_mm = 0.55 * (card.square_mm - card.marker_mm) / 2;
  const int column = corner.id % (card.columns - 1);
  const int row = corner.id / (card.columns - 1);
  double darkest_white = 1e9, lightest_black = -1e9;
  for (int dx = -1; dx <= 1; dx += 2) {
    for (int dy = -1; dy <= 1; dy += 2) {
      const Point_px p = map(h, {corner.at.x + dx * reach_mm, corner.at.y + dy * reach_mm});
      const double grey = grey_at(luma, {p.x + found.x - predicted.x, p.y + found.y - predicted.y});
      if (grey < 0) return false;
      const int square_column = column + (dx > 0 ? 1 : 0);
      const int square_row = row + (dy > 0 ? 1 : 0);
      if ((square_column + square_row) % 2 == 0)
        lightest_black = std::max(lightest_black, grey);
      else
        darkest_white = std::min(darkest_white, grey);
    }
  }
  return darkest_white - lightest_black > 12;
}

struct Refined {
  std::vector<SightedCorner> corners;
  int rejected = 0;
  std::vector<SightedCorner> displaced;  ///< real corners, but not where a flat card has them
};

Refined refine_corners(const cv::Mat& luma, const CardDefinition& card, const cv::Matx33d& h,
                       const std::vector<char>& marker_seen, bool first_pass) {
  Refined result;
  for (const CardCorner& corner : card.corners) {
    if (corner.state != CutState::present) continue;
    const Point_px predicted = map(h, corner.at);
    if (predicted.x < 12 || predicted.y < 12 || predicted.x > luma.cols - 13 ||
        predicted.y > luma.rows - 13)
      continue;
    // On the first pass only next to decoded markers; later wherever the card should be.
    if (first_pass) {
      bool near_marker = false;
      for (std::size_t m = 0; m < card.markers.size() && !near_marker; ++m) {
        if (!marker_seen[m]) continue;
        const auto& c = card.markers[m].corners;
        const double mx = (c[0].x + c[2].x) / 2, my = (c[0].y + c[2].y) / 2;
        near_marker = std::abs(mx - corner.at.x) < 1.6 * card.square_mm &&
                      std::abs(my - corner.at.y) < 1.6 * card.square_mm;
      }
      if (!near_marker) continue;
    }
    const auto [scale_x, scale_y] = px_per_mm_at(h, corner.at);
    const double scale = std::min(scale_x, scale_y);
    // The window must not reach the marker's corner, nor the next chessboard corner.
    const double gap_px = (card.square_mm - card.marker_mm) / 2 * scale;
    const double window = corner_half_window_px(card.square_mm * scale, gap_px);
    const Point_px found = refine_corner(luma, predicted, window);
    const double moved = distance_px(found, predicted);
    const double allowed = first_pass ? std::max(window, 3.5) : std::max(window / 2, 2.0);
    const bool real = looks_like_corner(luma, h, card, corner, found);
    if (!(moved <= allowed) || !real) {
      ++result.rejected;
      if (real) result.displaced.push_back({corner.id, corner.at, found});
      continue;
    }
    result.corners.push_back({corner.id, corner.at, found});
  }
  return result;
}

std::optional<cv::Matx33d> homography(const std::vector<cv::Point2d>& card_mm,
                                      const std::vector<cv::Point2d>& photo_px, double tolerance_px,
                                      std::vector<uchar>* inliers = nullptr) {
  if (card_mm.size() < 4) return std::nullopt;
  cv::Mat mask;
  const cv::Mat h = cv::findHomography(card_mm, photo_px, cv::RANSAC, tolerance_px, mask, 2000);
  if (h.empty()) return std::nullopt;
  if (inliers) mask.reshape(1, 1).copyTo(*inliers);
  return cv::Matx33d(h);
}

std::optional<cv::Matx33d> homography_of(const std::vector<SightedCorner>& corners,
                                         double tolerance_px, std::vector<uchar>* inliers) {
  std::vector<cv::Point2d> a, b;
  for (const SightedCorner& c : corners) {
    a.emplace_back(c.card_mm.x, c.card_mm.y);
    b.emplace_back(c.photo_px.x, c.photo_px.y);
  }
  return homography(a, b, tolerance_px, inliers);
}

void drop_outliers(std::vector<SightedCorner>& corners, const std::vector<uchar>& inliers,
                   std::vector<SightedCorner>& outliers) {
  std::vector<SightedCorner> kept;
  for (std::size_t i = 0; i < corners.size(); ++i)
    (inliers[i] ? kept : outliers).push_back(corners[i]);
  corners = std::move(kept);
}

/// The same marker at two far-apart places means two cards (or a mirror beside the card).
int doubled_markers(const std::vector<FoundMarker>& markers) {
  std::map<int, std::vector<Point_px>> places;
  int doubled = 0;
  for (const FoundMarker& marker : markers) {
    const double size = distance_px(marker.corners[0], marker.corners[2]);
    auto& seen = places[marker.id];
    for (const Point_px& other : seen)
      if (distance_px(other, marker.corners[0]) > size) ++doubled;
    seen.push_back(marker.corners[0]);
  }
  return doubled;
}

/// Seen in a mirror, a few nearly symmetric markers still decode and map the card with its sides
/// swapped.
bool is_reflection(const cv::Matx33d& h, const CardDefinition& card) {
  const Point_mm middle{card.columns * card.square_mm / 2, card.rows * card.square_mm / 2};
  const Point_px o = map(h, middle);
  const Point_px x = map(h, {middle.x + 1, middle.y}), y = map(h, {middle.x, middle.y + 1});
  return (x.x - o.x) * (y.y - o.y) - (x.y - o.y) * (y.x - o.x) < 0;
}

Check mirrored_check(const std::string& words) {
  return stop("photo_mirrored", "The " + words +
                                    " is mirrored in this photo. Turn off the mirroring (selfie) "
                                    "setting, use the main camera and take the photo again.");
}

bool mirrored_card(const cv::Mat& luma, const CardDefinition& card) {
  cv::Mat small = luma, flipped;
  while (small.cols > 1300) {
    cv::Mat half;
    cv::resize(small, half, {}, 0.5, 0.5, cv::INTER_AREA);
    small = half;
  }
  cv::flip(small, flipped, 1);
  return search_markers(flipped, card, 6, SearchEffort::thorough).size() >= 4;
}

}  // namespace

CardSearch find_card(const cv::Mat& luma, const CardDefinition& card, SearchEffort effort) {
  CardSearch search;
  const std::string words = card_words(card);
  const int present = static_cast<int>(
      std::count_if(card.markers.begin(), card.markers.end(),
                    [](const CardMarker& m) { return m.state == CutState::present; }));
  // The detector takes no empty picture, and nothing can be read in one this small.
  const bool readable = std::min(luma.cols, luma.rows) >= 48;
  const auto markers = readable ? search_markers(luma, card, std::max(6, present / 3), effort)
                                : std::vector<FoundMarker>{};
  if (markers.size() < 2) {
    if (readable && effort == SearchEffort::thorough && mirrored_card(luma, card)) {
      search.checks.push_back(mirrored_check(words));
    } else {
      search.checks.push_back(
          stop("card_missing", "No " + words + " was found. " + placing_words(card) +
                                   ", keep it sharp and well lit, and take the photo again."));
    }
    return search;
  }
  if (doubled_markers(markers) >= 2) {
    search.checks.push_back(stop("card_twice",
                                 "Two cards of the same kind are in this photo. Leave only one at "
                                 "the part and take the photo again."));
    return search;
  }

  std::vector<cv::Point2d> card_mm, photo_px;
  std::vector<char> seen(card.markers.size(), 0);
  for (const FoundMarker& marker : markers) {
    const auto index = static_cast<std::size_t>(marker.id - card.first_marker_id);
    seen[index] = 1;
    for (std::size_t k = 0; k < 4; ++k) {
      card_mm.emplace_back(card.markers[index].corners[k].x, card.markers[index].corners[k].y);
      photo_px.emplace_back(marker.corners[k].x, marker.corners[k].y);
    }
  }
  const double longest = std::max(luma.cols, luma.rows);
  auto h = homography(card_mm, photo_px, std::max(3.0, longest / 700));
  if (h && is_reflection(*h, card)) {
    search.checks.push_back(mirrored_check(words));
    return search;
  }
  std::vector<SightedCorner> corners;
  std::vector<SightedCorner> displaced;
  for (int pass = 0; pass < 3 && h; ++pass) {
    Refined refined = refine_corners(luma, card, *h, seen, pass == 0);
    corners = std::move(refined.corners);
    displaced = std::move(refined.displaced);
    std::vector<uchar> inliers;
    // Lens distortion alone may bend a corner 2-3 px away from a flat map.
    h = homography_of(corners, std::max(3.0, longest / 1300), &inliers);
    if (h) drop_outliers(corners, inliers, displaced);
  }
  if (!h || corners.size() < 8) {
    search.checks.push_back(
        stop("card_too_few_corners",
             "Too little of the " + words +
                 " can be read. Keep hands and tools off it, let the light fall on its whole face, "
                 "go closer and take the photo again."));
    return search;
  }
  CardSighting sighting;
  sighting.card = &card;
  sighting.markers_found = static_cast<int>(markers.size());
  for (const SightedCorner& c : corners) {
    const auto [x, y] = px_per_mm_at(*h, c.card_mm);
    sighting.px_per_mm += std::max(x, y) / static_cast<double>(corners.size());
  }
  const auto possible =
      std::count_if(card.corners.begin(), card.corners.end(),
                    [](const CardCorner& c) { return c.state == CutState::present; });
  if (static_cast<double>(corners.size() + displaced.size()) < 0.75 * static_cast<double>(possible))
    search.checks.push_back({"card_partly_hidden", Severity::warn,
                             "Part of the " + words +
                                 " is hidden, out of the picture or unreadable. The size is still "
                                 "usable; show the whole card for a better one."});
  sighting.corners = std::move(corners);
  sighting.displaced = std::move(displaced);
  search.sighting = std::move(sighting);
  return search;
}

CardSearch find_card(const cv::Mat& luma, const CardDefinition& card) {
  return find_card(luma, card, SearchEffort::thorough);
}

}  // namespace scantling
