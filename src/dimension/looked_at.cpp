#include "dimension/looked_at.h"

#include <algorithm>
#include <vector>

#include "dimension/size_budget.h"
#include "uncertainty/joined_chain.h"

namespace scantling {

namespace {

/// The chain with some of its sources held at their estimates.
std::shared_ptr<const SizeChain> without(std::shared_ptr<const SizeChain> chain,
                                         const std::vector<std::string>& sources) {
  ChainJoint joint;
  joint.shared_share = [](const std::string&) { return 0.0; };
  joint.held = [&](const std::string& source) {
    return std::find(sources.begin(), sources.end(), source) != sources.end();
  };
  joint.size_mm = [](std::span<const double> sizes_mm, std::span<const double>) {
    return sizes_mm[0];
  };
  const ChainPart part{std::move(chain), ""};
  return join_chains({&part, 1}, joint);
}

}  // namespace

Measurement looked_at(Measurement measurement, std::span<const std::string> edges) {
  std::vector<std::string> sources;
  for (const std::string& edge : edges) sources.push_back(mistaken_source(edge));
  const auto gone = [&](const BudgetLine& line) {
    return std::find(sources.begin(), sources.end(), line.source) != sources.end();
  };
  for (Dimension& d : measurement.dimensions) {
    std::vector<BudgetLine> lines = d.quantity.budget;
    if (std::erase_if(lines, gone) == 0) continue;
    d.quantity = combine_independent(d.quantity.value_mm, std::move(lines));
    if (d.chain) d.chain = without(d.chain, sources);
  }
  return measurement;
}

}  // namespace scantling
