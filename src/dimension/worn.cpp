#include "dimension/worn.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "dimension/better_input.h"
#include "dimension/size_budget.h"
#include "uncertainty/joined_chain.h"

namespace scantling {
namespace {

struct Split {
  std::vector<BudgetLine> own;
  double scale_u_mm = 0;
  double checked_scale_u_mm = 0;
};

Split split_budget(const Quantity& quantity, const std::string& owner) {
  Split split;
  for (BudgetLine line : quantity.budget) {
    if (is_print_scale(line)) {
      split.scale_u_mm = std::hypot(split.scale_u_mm, line.standard_uncertainty_mm);
      split.checked_scale_u_mm =
          std::hypot(split.checked_scale_u_mm, line.remedy ? line.remedy->standard_uncertainty_mm
                                                           : line.standard_uncertainty_mm);
      continue;
    }
    line.source = owner + ": " + line.source;
    split.own.push_back(std::move(line));
  }
  return split;
}

const Dimension* lip_of(const Measurement* lip) {
  return lip && lip->usable() ? lip->dimension("lip_height") : nullptr;
}

/// The worn thickness drawn through the rim's and the lips' own models. A single lip stands for the
/// other one too, which no rust makes negative.
std::shared_ptr<const SizeChain> chain_of_worn(const Dimension& rim,
                                               const std::vector<const Dimension*>& lips,
                                               const std::vector<std::string>& owners,
                                               const std::vector<BudgetLine>& own_lines) {
  std::vector<ChainPart> parts = {{rim.chain, "rim"}};
  for (std::size_t i = 0; i < lips.size(); ++i) parts.push_back({lips[i]->chain, owners[i]});
  ChainJoint joint;
  joint.shared_share = [](const std::string& source) {
    return source.starts_with(kPrintScaleSource) ? 1.0 : 0.0;
  };
  for (const BudgetLine& line : own_lines)
    joint.extras.push_back({line, error_of(line.standard_uncertainty_mm, line.degrees_of_freedom)});
  const bool alone = lips.size() == 1;
  joint.size_mm = [alone](std::span<const double> sizes, std::span<const double> errors) {
    double worn = sizes[0];
    for (const double lip : sizes.subspan(1)) worn -= alone ? lip + std::max(0.0, lip) : lip;
    for (const double error : errors) worn += error;
    return worn;
  };
  return join_chains(parts, joint);
}

}  // namespace

WornThickness worn_thickness(const Measurement& rim, const Measurement* lip_out,
                             const Measurement* lip_in) {
  WornThickness result;
  const Dimension* over = rim.usable() ? rim.dimension("rim_thickness") : nullptr;
  const Dimension* out = lip_of(lip_out);
  const Dimension* in = lip_of(lip_in);
  if (over) result.rim = *over;
  if (out) {
    result.lip_out = *out;
    result.lip_out->name = "lip_height_out";
  }
  if (in) {
    result.lip_in = *in;
    result.lip_in->name = "lip_height_in";
  }
  if (!over) {
    result.checks.push_back({"rim_missing", Severity::stop,
                             "The rim's thickness is missing: take a photo of the rim through the "
                             "notch card, or gauge the disc."});
    return result;
  }
  if (!out && !in) {
    result.checks.push_back({"lips_missing", Severity::stop,
                             "Neither face's lip is measured, so the worn thickness is unknown: "
                             "the rim's thickness must not stand in for it. Photograph the lips "
                             "over the track card, or gauge the disc inside the lip."});
    return result;
  }

  const Split rim_split = split_budget(over->quantity, "rim");
  std::vector<BudgetLine> lines = rim_split.own;
  double value = over->quantity.value_mm, scale = rim_split.scale_u_mm,
         checked_scale = rim_split.checked_scale_u_mm;
  double confidence = over->confidence;
  // A lip that stands for both faces is subtracted twice, so that its error counts twice: the same
  // error, fully correlated with itself (JCGM 100 5.2.2).
  const double times = out && in ? 1 : 2;
  std::vector<const Dimension*> lips;
  std::vector<std::string> owners;
  const auto subtract = [&](const Dimension& lip, const char* face) {
    const std::string owner = std::string(face) + " lip";
    lips.push_back(&lip);
    owners.push_back(owner);
    const Split split = split_budget(lip.quantity, owner);
    for (const BudgetLine& line : split.own) lines.push_back(scaled_line(line, times));
    value -= lip.quantity.value_mm;
    scale -= times * split.scale_u_mm;  // the same sheet: a scale error takes from both
    checked_scale -= times * split.checked_scale_u_mm;
    confidence = std::min(confidence, lip.confidence);
  };
  if (out) subtract(*out, "outboard");
  if (in) subtract(*in, "inboard");
  std::vector<BudgetLine> own_lines;
  if (!out || !in) {
    // Beside the known lip's own error the assumption has its own: discs wear unevenly from face to
    // face (common practice: by half and more).
    const Dimension& known = out ? *out : *in;
    const double height = std::max(0.0, known.quantity.value_mm);
    value -= height;
    own_lines.push_back(
        {std::string(out ? "inboard" : "outboard") + " lip, taken to be like the other",
         std::hypot(0.15, 0.6 * height), 8, "Photograph that face's lip too."});
    result.one_face_assumed = true;
    result.checks.push_back({"one_face_assumed", Severity::warn,
                             "Only one face's lip is measured; the other is taken to be alike, "
                             "which is often wrong. Photograph both faces."});
  }
  own_lines.push_back({"tops of the lips not level with the wall's top, and wear round the disc",
                       0.05, kUnlimitedDegreesOfFreedom,
                       "Take rim and lips at one clock position, where the disc is thinnest."});
  lines.insert(lines.end(), own_lines.begin(), own_lines.end());
  lines.push_back({kPrintScaleSource, std::abs(scale), kUnlimitedDegreesOfFreedom,
                   "Measure the sheet's check bars and enter them."});
  if (std::abs(checked_scale) < std::abs(scale))
    lines.back().remedy = {kCheckedScale, std::abs(checked_scale)};
  Dimension worn;
  worn.name = "worn_thickness";
  worn.quantity = combine_independent(value, std::move(lines));
  worn.chain = chain_of_worn(*over, lips, owners, own_lines);
  if (!worn.chain) worn.chain = chain_of(worn.quantity);
  worn.confidence = confidence;
  result.worn = std::move(worn);
  return result;
}

}  // namespace scantling
