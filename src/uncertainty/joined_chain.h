#pragma once

#include <functional>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "uncertainty/size_chain.h"

namespace scantling {

/// A size that has its chain already, and enters another one: a rim less its lips.
struct ChainPart {
  std::shared_ptr<const SizeChain> chain;
  std::string owner;  ///< stands before its sources, "rim"; may be empty
};

/// How chains are joined into that of a size which follows from theirs.
struct ChainJoint {
  /// How much of a source's variance, 0 to 1, the parts have in common: the print scale of one
  /// sheet wholly, an edge's own placing not at all. Common sources are matched by their words and
  /// keep them.
  std::function<double(const std::string& source)> shared_share;
  /// Sources that the parts leave to the joint: held at their estimates.
  std::function<bool(const std::string& source)> held = {};
  /// Errors of the joint's own.
  struct Extra {
    BudgetLine line;
    Distribution distribution;
  };
  std::vector<Extra> extras = {};
  /// The size from the parts' sizes and the drawn extras, in their order.
  std::function<double(std::span<const double> sizes_mm, std::span<const double> extras)> size_mm;
};

/// One chain for first order (JCGM 100) and Monte Carlo (JCGM 101), drawn through each part's own
/// model. What the parts share must be symmetric about its estimate, as errors are.
/// @return nothing where a part has no chain, as one read back from a record.
std::shared_ptr<const SizeChain> join_chains(std::span<const ChainPart> parts,
                                             const ChainJoint& joint);

}  // namespace scantling
