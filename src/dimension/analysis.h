#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "card/card_sighting.h"
#include "dimension/measurement.h"
#include "edges/edge_profile.h"
#include "photo/photo.h"

namespace scantling {

class CardPose;
struct CameraProfile;
struct CameraShelf;

/// Printed size over nominal size along the card's x and y, with the standard uncertainty of each.
struct SheetScale {
  double x = 1;
  double y = 1;
  double standard_uncertainty = 0.010;  ///< an unchecked print: about 1 %
  bool checked = false;
  bool id_card = false;  ///< nothing printed: an ID-1 card stands beside the part instead

  bool operator==(const SheetScale&) const = default;
};

/// How far the part's edge lies behind the card's printed face.
struct PartOffset {
  double offset_mm = 0;
  double standard_uncertainty_mm = 0.3;

  bool operator==(const PartOffset&) const = default;
};

struct MeasureOptions {
  View view = View::pad;
  SheetScale sheet_scale;
  PartOffset part_offset;
  std::optional<double> disc_diameter_mm;  ///< rim and lip view, where the user knows it
  /// Camera profiles to match the photo with; none: the lens is reckoned from the photo itself.
  std::shared_ptr<const CameraShelf> cameras = nullptr;
};

/// A straight edge between two places on the photo: what the user drags.
struct EdgeSegment {
  Point_px a;
  Point_px b;
};

struct MovedEdge {
  std::string edge;  ///< the edge's name
  EdgeSegment segment;
};

/// The light across an edge as it stands, in the photo's own terms.
struct EdgeLight {
  EdgeProfile profile;   ///< 0: where the edge lies; positive as the edges of the part follow
  double mm_per_px = 0;  ///< millimetres on the part for one of the profile's pixels
  Point_px first, last;  ///< where the profile begins and ends, across the edge's middle
};

/// A length measured freely in the plane of the card's printed face.
struct PlaneLength {
  Quantity length;
  double short_per_mm_behind = 0;  ///< share by which it reads short, a millimetre behind the card
};

/// Edges below this confidence are proposals: they want the user's eye before they count.
inline constexpr double kConfirmBelow = 0.7;

/// One photo analysed: keeps all that a drag needs, so that nothing is decoded or detected again.
/// Copies are cheap (shared, immutable); safe to use from several threads.
class Analysis {
 public:
  /// Runs the whole chain. Bad input ends in `stop` checks, never in an exception.
  static Analysis run(const std::filesystem::path& photo, const MeasureOptions& options);
  static Analysis run(PhotoLoad load, const MeasureOptions& options);

  /// As found, without help.
  const Measurement& measurement() const;
  const MeasureOptions& options() const;
  /// The profile of `options().cameras` that served this photo; null where none did. Lives as long
  /// as the analysis or a copy of it.
  const CameraProfile* camera_profile() const;
  /// The card's corners on the photo, for drawing; empty where no card was found.
  const std::vector<SightedCorner>& corners() const;

  /// The result with some edges moved by hand. Each moved edge carries its own placing uncertainty
  /// in the budget and `EdgeOrigin::moved`; edges not named stay as found.
  Measurement with_edges(std::span<const MovedEdge> moved) const;

  /// The real edge nearest to `proposed` within `reach_px` along its normal, fitted to sub-pixel;
  /// nothing where no edge is near. The user's segment stays as it is unless this returns one.
  std::optional<EdgeSegment> snapped(const EdgeSegment& proposed, double reach_px) const;

  /// The light across the edge between these ends, and the blurred step fitted to it. Nothing where
  /// the photo has no card, or no light is there.
  std::optional<EdgeLight> light_across(const EdgeSegment& edge) const;

  /// The distance between two places of the photo in the card's plane. Nothing where the photo has
  /// no card, or a place does not lie on that plane.
  std::optional<PlaneLength> length_in_card_plane(Point_px a, Point_px b) const;
  /// Where the camera stands to the card; null where no card was found. Lives as long as the
  /// analysis or a copy of it.
  const CardPose* card_pose() const;

  /// The lip view's photos of one and the same lip, read again so that they agree: the same foot
  /// beside the card, one height and one run for all. Photos of other views come back as they are.
  static std::vector<Analysis> agreed_on_lip(std::vector<Analysis> photos);

  /// The photo's luma picture (CV_8UC1, upright), shared and not to be written to.
  cv::Mat luma() const;

 private:
  struct State;
  std::shared_ptr<const State> state_;
};

}  // namespace scantling
