// The sizes with their budgets: what the adjustment's covariance says, and what it can't know.

#include <ceres/rotation.h>
#include <algorithm>
#include <cmath>
#include <functional>

#include "dimension/better_input.h"
#include "planes/bundle_start.h"
#include "planes/plane_sizes.h"
#include "uncertainty/coverage.h"
#include "uncertainty/size_chain.h"

namespace scantling {
namespace {

/// Tape, dust or a burr under a card: rectangular from nothing to 0.07 mm. It only ever lifts the
/// card, and the size is not corrected by the mean, so this is the root mean square about nothing:
/// 0.07 / sqrt(3). A judgement, to be doubted by a third.
constexpr double kUnderCard_mm = 0.04;
/// Of a card that is flat as far as its corners tell.
constexpr double kCardFlatness_mm = 0.01;
/// A sheet's print lies on the table but for its own cockle.
constexpr double kSheetFlatness_mm = 0.01;
/// A disc leaning on something creeps, unseen, while the user walks round it.
constexpr double kUnseenCreep_mm = 0.03;
constexpr double kSeenCreep_mm = 0.005;
/// What tilts a card on a face: half its own length is the lever.
constexpr double kCardLever_mm = 20;

double doubted(double relative) {
  return degrees_of_freedom_of_doubt(relative);
}

class Budget {
 public:
  Budget(const PlanesSolution& solved, const PlaneBundleInformation& information,
         const PlaneBundleInformation& with_surface, const PlanesOptions& options,
         const PlaneEvidence& evidence)
      : solved_(solved),
        information_(information),
        with_surface_(with_surface),
        options_(options),
        evidence_(evidence) {}

  /// `function` gives the size before the cards' thickness is taken off; `cards` times that is
  /// taken off, with the same sign of error in each.
  Quantity quantity(const std::function<double(const PlaneBundleState&)>& function, double cards,
                    int card_count, double sheet_share) const {
    const PlaneBundleState& state = solved_.solution.state;
    const PlaneSize size = size_of(information_, state, function);
    const auto shares = information_.shares(size.gradient);
    const auto share = [&](RowGroup group) { return shares[static_cast<std::size_t>(group)]; };
    std::vector<BudgetLine> lines;
    const auto add = [&](const char* source, double u, double dof, const char* advice) {
      if (u > 0) lines.push_back({source, u, dof, advice});
    };
    const double misfit = solved_.misfit();
    const double dof = misfit > 1
                           ? solved_.moved_unknowns
                           : std::max(1, solved_.solution.rows - solved_.solution.parameters);
    add("corners in the photos",
        std::sqrt(misfit * (share(RowGroup::sheet_corners) + share(RowGroup::card_corners))), dof,
        "Take one more photo, from another direction.");
    add("lens", std::sqrt(share(RowGroup::lens) + share(RowGroup::autofocus)),
        kUnlimitedDegreesOfFreedom, "Make a camera profile, or take photos from more directions.");
    const double sheet_variance = share(RowGroup::sheet_scale) + share(RowGroup::surface);
    const double cards_variance = share(RowGroup::card_scale);
    add("print scale of the ground sheet", std::sqrt(sheet_variance),
        options_.sheet_scale.checked ? doubted(0.25) : doubted(0.5),
        "Measure the sheet's check bars and enter them.");
    add("print scale of the cards", std::sqrt(cards_variance), doubted(0.25),
        "Print the cards and the sheet together, and measure their check bars.");
    add_checked_scales(lines, size, sheet_variance, cards_variance);
    add_sheet_flatness(lines, size, function, sheet_share);
    add("card thickness", std::abs(cards) * options_.card_thickness.standard_uncertainty_mm,
        doubted(options_.card_thickness.measured ? 0.25 : 0.5),
        "Measure the card's thickness with a calliper and enter it.");
    if (cards != 0 && options_.card_thickness.standard_uncertainty_mm > kMeasuredCard_u_mm)
      lines.back().remedy = {kCardThickness, std::abs(cards) * kMeasuredCard_u_mm};
    double bend = 0;
    for (const auto& piece : state.pieces) bend = std::max(bend, std::abs(piece[6]));
    add("cards' flatness",
        std::hypot(std::sqrt(card_count) * std::hypot(kCardFlatness_mm, bend / std::sqrt(3.0)),
                   std::sqrt(share(RowGroup::bend))),
        doubted(0.33), "Glue the cards flat on stiff card, and press them flat on the part.");
    add("cards not flat on the part", std::sqrt(card_count) * kUnderCard_mm, doubted(0.33),
        "Wipe the part and hold the card on its whole face.");
    add_tilt(lines, card_count);
    if (options_.view == PlanesView::faces)
      add("something moved between photos", evidence_.seen_again ? kSeenCreep_mm : kUnseenCreep_mm,
          doubted(0.5),
          evidence_.seen_again ? "" : "End with one more photo of the side you began with.");
    return combine_independent(size.value_mm - cards * options_.card_thickness.thickness_mm,
                               std::move(lines));
  }

 private:
  void add_sheet_flatness(std::vector<BudgetLine>& lines, const PlaneSize& size,
                          const std::function<double(const PlaneBundleState&)>& function,
                          double sheet_share) const {
    // What a surface would cost in certainty, the adjustment being without one.
    double hidden = 0;
    if (!solved_.curved) {
      const PlaneSize freed = size_of(with_surface_, solved_.solution.state, function);
      hidden = std::max(
          0.0, with_surface_.variance(freed.gradient) - information_.variance(size.gradient));
    }
    const double local = std::hypot(kSheetFlatness_mm, evidence_.unevenness_mm);
    // A part lying on a curved sheet presses it flat, nobody knows how much of it.
    const double pressed = solved_.curved ? 0.1 * evidence_.range_mm : 0;
    lines.push_back({"ground sheet's flatness",
                     std::sqrt(hidden + std::pow(sheet_share * std::hypot(local, pressed), 2)),
                     doubted(0.33), "Tape the sheet flat on a board or a pane of glass."});
  }

  /// What is left of both print scales once the sheet is checked.
  void add_checked_scales(std::vector<BudgetLine>& lines, const PlaneSize& size,
                          double sheet_variance, double cards_variance) const {
    const double scales = sheet_variance + cards_variance;
    if (options_.sheet_scale.standard_uncertainty <= kCheckedScale_u || !(scales > 0)) return;
    PlanesOptions checked = options_;
    checked.sheet_scale.standard_uncertainty = kCheckedScale_u;
    const double gain =
        information_.variance(size.gradient) -
        information_.variance_with_scales(size.gradient, scale_uncertainties(options_),
                                          scale_uncertainties(checked));
    const double left = std::sqrt(std::clamp(1 - gain / scales, 0.0, 1.0));
    for (BudgetLine& line : lines)
      if (line.source.starts_with("print scale"))
        line.remedy = {kCheckedScale, left * line.standard_uncertainty_mm};
  }

  void add_tilt(std::vector<BudgetLine>& lines, int card_count) const {
    if (options_.view != PlanesView::faces || card_count < 2) return;
    // Beyond what corner noise explains, one card stands off at one side.
    const double excess =
        std::pow(evidence_.angle.angle_deg, 2) - 2 * std::pow(evidence_.angle.u_deg, 2);
    if (excess <= 0 || evidence_.angle.chi_square < 9.2) return;  // 1 % of parallel cards
    lines.push_back({"faces not parallel",
                     std::sqrt(excess) * M_PI / 180 * kCardLever_mm / std::sqrt(3.0), doubted(0.33),
                     "Press both cards flat on clean metal and take the photos again."});
  }

  const PlanesSolution& solved_;
  const PlaneBundleInformation& information_;
  const PlaneBundleInformation& with_surface_;
  const PlanesOptions& options_;
  const PlaneEvidence& evidence_;
};

Dimension dimension(const char* name, Quantity quantity, double confidence) {
  Dimension d;
  d.name = name;
  d.quantity = std::move(quantity);
  // Linear in its errors: the adjustment itself is drawn in the sweep of the tests.
  d.chain = chain_of(d.quantity);
  d.confidence = confidence;
  return d;
}

}  // namespace

std::vector<Dimension> plane_sizes(const PlanesSolution& solved,
                                   const PlaneBundleInformation& information,
                                   const PlaneBundleInformation& with_surface,
                                   const PlanesOptions& options, const PlaneEvidence& evidence) {
  const PlaneBundle& bundle = solved.bundle;
  const PlaneBundleState& state = solved.solution.state;
  const Budget budget(solved, information, with_surface, options, evidence);
  const double confidence = solved.strained() ? 0.8 : 0.95;
  const auto a = block_of(bundle, PlanePiece::card_a), b = block_of(bundle, PlanePiece::card_b);
  std::vector<Dimension> sizes;
  if (options.view == PlanesView::faces) {
    if (!a || !b) return sizes;
    sizes.push_back(dimension(
        "worn_thickness",
        budget.quantity([&](const PlaneBundleState& s) { return faces_distance_mm(s, *a, *b); }, 2,
                        2,
                        // The sheet joins the photos; a single corner's height hardly counts.
                        0.25),
        confidence));
    sizes.back().stations = {{0, sizes.back().quantity.value_mm}};
    return sizes;
  }
  if (!a && !b) return sizes;
  // Height of a place on a card's own axis, towards the end of its long or its short side.
  const auto end_height = [&](const PlaneBundleState& s, std::size_t block, bool along,
                              double side) {
    PlaneBundleState at_end = s;
    const auto& p = s.pieces[block];
    const double half_mm =
        along ? bundle.half_x_mm(bundle.blocks[block]) : bundle.half_y_mm(bundle.blocks[block]);
    const double place[3] = {along ? side * half_mm : 0, along ? 0 : side * half_mm, 0};
    double turned[3];
    ceres::AngleAxisRotatePoint(p.data(), place, turned);
    for (std::size_t i = 0; i < 3; ++i) at_end.pieces[block][i + 3] += turned[i];
    return height_mm(bundle, at_end, block);
  };
  const auto across = [&](Quantity quantity) {
    return dimension("friction_taper_across", std::move(quantity), confidence);
  };
  const double card_mm = options.card_thickness.thickness_mm;
  if (a && b) {
    const auto middle = [&](const PlaneBundleState& s) {
      return (height_mm(bundle, s, *a) + height_mm(bundle, s, *b)) / 2;
    };
    const auto difference = [&](const PlaneBundleState& s) {
      return height_mm(bundle, s, *b) - height_mm(bundle, s, *a);
    };
    const double apart = std::hypot(state.pieces[*b][3] - state.pieces[*a][3],
                                    state.pieces[*b][4] - state.pieces[*a][4]);
    const std::vector<Station> stations = {{-apart / 2, height_mm(bundle, state, *a) - card_mm},
                                           {apart / 2, height_mm(bundle, state, *b) - card_mm}};
    sizes.push_back(dimension("overall_thickness", budget.quantity(middle, 1, 1, 1), confidence));
    sizes.push_back(dimension("friction_taper", budget.quantity(difference, 0, 2, 1), confidence));
    sizes[0].stations = sizes[1].stations = stations;
    sizes.push_back(across(budget.quantity(
        [&](const PlaneBundleState& s) {
          return (end_height(s, *a, false, 1) - end_height(s, *a, false, -1) +
                  end_height(s, *b, false, 1) - end_height(s, *b, false, -1)) /
                 2;
        },
        0, 2, 1)));
    return sizes;
  }
  const std::size_t only = a ? *a : *b;
  const double half = bundle.half_x_mm(bundle.blocks[only]);
  sizes.push_back(
      dimension("overall_thickness",
                budget.quantity(
                    [&](const PlaneBundleState& s) { return height_mm(bundle, s, only); }, 1, 1, 1),
                confidence));
  sizes.back().stations = {{0, sizes.back().quantity.value_mm}};
  // One card alone tells the slope under its own length.
  sizes.push_back(dimension("friction_taper",
                            budget.quantity(
                                [&](const PlaneBundleState& s) {
                                  return end_height(s, only, true, 1) -
                                         end_height(s, only, true, -1);
                                },
                                0, 2, 1),
                            confidence));
  sizes.back().stations = {{-half, end_height(state, only, true, -1) - card_mm},
                           {half, end_height(state, only, true, 1) - card_mm}};
  sizes.push_back(across(budget.quantity(
      [&](const PlaneBundleState& s) {
        return end_height(s, only, false, 1) - end_height(s, only, false, -1);
      },
      0, 2, 1)));
  return sizes;
}

}  // namespace scantling
