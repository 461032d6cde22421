#pragma once

#include <array>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "dimension/part_reading.h"
#include "dimension/pose_inputs.h"
#include "uncertainty/size_chain.h"

namespace scantling {

/// Everything a size in the card's plane depends on, as one set of numbers that can be varied one
/// at a time.
struct SizeModel {
  CardPose pose;
  PartFrame frame;
  std::vector<PlacedEdge> edges;
  std::vector<std::array<Point_px, 2>> ends_px;  ///< the seen lines, fixed on the photo

  /// `reach_mm`: how far from an edge's middle its line is held on the photo.
  SizeModel(const CardPose& pose, const PartReading& reading, double reach_mm);

  /// Where edge i stands at `along`, on the surface in which it lies.
  double across(std::size_t i, double along) const;
  /// Distance between two edges' faces at a station, along the part's normal.
  double thickness(std::size_t from, std::size_t to, double along) const;
};

/// The itemised budget (JCGM 100) of sizes that follow from a SizeModel, by numeric sensitivities.
class SizeBudget {
 public:
  using Size = std::function<double(const SizeModel&)>;
  using Vary = std::function<void(SizeModel&, double)>;

  SizeBudget(const PlaneScene& scene, const PartReading& reading, const MeasureOptions& options,
             double reach_mm);

  const SizeModel& nominal() const { return nominal_; }
  double sensitivity(const Size& size, double step, const Vary& vary) const;

  /// `used`: the edges that the size depends on; `placing`: each one's own share of placing
  /// uncertainty; `more`: lines of the view's own.
  Quantity quantity(const Size& size, std::span<const std::size_t> used,
                    const std::function<double(const PlacedEdge&)>& placing,
                    std::vector<BudgetLine> more = {}) const;

  /// The same size, inputs and sources as quantity(), as a chain that Monte Carlo can run: pose,
  /// depths, offset and scale go through the model; what the budget states in mm (placing, what
  /// counts as the edge, `more`) is added to the size. `definition_share`: how much of what counts
  /// as an edge is left, where most of it cancels in a difference.
  std::shared_ptr<const SizeChain> chain(const Size& size, std::span<const std::size_t> used,
                                         const std::function<double(const PlacedEdge&)>& placing,
                                         const std::vector<BudgetLine>& more = {},
                                         double definition_share = 1) const;

  /// The pose's covariance through the size's gradient, the print's aspect told apart.
  PoseShares pose_parts(const Size& size) const;

 private:
  /// A card standing out of square by about one degree tilts the part's normal in the picture.
  double standing_u_mm(double value_mm, std::span<const std::size_t> used) const;
  /// Unevenness that the corners show, seen at the camera's angle to the card.
  double flatness_u_mm() const;

  const PlaneScene& scene_;
  const PartReading& reading_;
  const MeasureOptions& options_;
  SizeModel nominal_;
};

/// "the plate's outer edge" and the like, for budget lines and checks.
std::string edge_words(const std::string& edge);

/// The budget line that another line may be the edge: it goes once somebody has looked.
std::string mistaken_source(const std::string& edge);
inline constexpr char kMistakenAdvice[] = "Look at the line, and confirm it or drag it.";

inline constexpr char kPrintScaleSource[] = "print scale of the sheet";
inline bool is_print_scale(const BudgetLine& line) {
  return line.source.starts_with(kPrintScaleSource);
}

/// The budget line of the sheet's print scale for a size of `value_mm`. `checked_aspect_mm`: the
/// aspect's part where the scale is checked.
BudgetLine print_scale_line(const SheetScale& scale, double value_mm, double aspect_mm,
                            double checked_aspect_mm);
/// The line of card corners, camera and lens; a profile helps where none serves yet.
BudgetLine pose_line(const PlaneScene& scene, const PoseShares& shares, std::string advice);
inline constexpr char kPoseSource[] = "card corners, camera and lens";

}  // namespace scantling
