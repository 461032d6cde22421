#include "report/drawn_size.h"

#include <cmath>

#include "report/every_photo.h"
#include "report/redo.h"

namespace scantling {

namespace {

constexpr double kSameSize_mm = 1e-6;

bool same_size(const Quantity& a, const Quantity& b) {
  return std::abs(a.value_mm - b.value_mm) <= kSameSize_mm &&
         std::abs(a.standard_uncertainty_mm - b.standard_uncertainty_mm) <= kSameSize_mm;
}

std::shared_ptr<const SizeChain> model_of_pad(const Record& record, const PartSummary& summary) {
  if (!summary.governing_photo || summary.size->at_mm) return nullptr;
  const PhotoFinding& photo = summary.photos[*summary.governing_photo];
  const Measurement measured =
      as_confirmed(measure_again(record, *photo.newest), photo.confirmations);
  const Dimension* source = measured.dimension(summary.size->dimension);
  return source && same_size(source->quantity, summary.size->quantity) ? source->chain : nullptr;
}

/// A rim and its lips, each photo with its model again.
std::shared_ptr<const SizeChain> model_of_disc(const Record& record, PartSummary summary) {
  for (PhotoFinding& f : summary.photos)
    if (!from_planes(f.photo.view) && settled(f) && f.newest->measurement.usable())
      f.newest->measurement = as_confirmed(measure_again(record, *f.newest), f.confirmations);
  const Measurement* rim = settled_rim(summary);
  if (!rim) return nullptr;
  const std::optional<Dimension> worn = worn_by(summary, *rim).worn;
  return worn && same_size(worn->quantity, summary.size->quantity) ? worn->chain : nullptr;
}

}  // namespace

std::optional<ChainCheck> draw_size(const Record& record, const PartSummary& summary) {
  if (!summary.size) return std::nullopt;
  const auto model = summary.part.kind == PartKind::disc ? model_of_disc(record, summary)
                                                         : model_of_pad(record, summary);
  return check_by_monte_carlo(model ? *model : *chain_of(summary.size->quantity));
}

}  // namespace scantling
