#include "report/drawn_size.h"

#include <cmath>

#include "report/redo.h"

namespace scantling {

namespace {

constexpr double kSameSize_mm = 1e-6;

/// The model behind the size; nothing where the size is more than one photo's plain dimension.
std::shared_ptr<const SizeChain> model_of(const Record& record, const PartSummary& summary) {
  if (summary.part.kind == PartKind::disc || !summary.governing_photo) return nullptr;
  const PhotoFinding& photo = summary.photos[*summary.governing_photo];
  const Measurement measured = measure_again(record, *photo.newest);
  const Dimension* source = measured.dimension(summary.size->dimension);
  if (!source || summary.size->at_mm) return nullptr;
  const Quantity &plain = source->quantity, &size = summary.size->quantity;
  const bool same =
      std::abs(plain.value_mm - size.value_mm) <= kSameSize_mm &&
      std::abs(plain.standard_uncertainty_mm - size.standard_uncertainty_mm) <= kSameSize_mm;
  if (!same) return nullptr;
  return source->chain;
}

}  // namespace

std::optional<ChainCheck> draw_size(const Record& record, const PartSummary& summary) {
  if (!summary.size) return std::nullopt;
  const auto model = model_of(record, summary);
  return check_by_monte_carlo(model ? *model : *chain_of(summary.size->quantity));
}

}  // namespace scantling
