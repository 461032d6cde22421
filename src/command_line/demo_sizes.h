#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "planes/planes_result.h"
#include "report/demo_job.h"
#include "report/summary.h"

namespace scantling {

/// One measured size of a made picture beside the true one.
struct DemoSize {
  std::string dimension;
  std::string title;        ///< "friction material", "less outboard lip", ...
  bool planes = false;      ///< solved from planes instead of edges
  bool judged = false;      ///< the one that is set against the part's minimum
  bool to_confirm = false;  ///< as proposed: it rests on an edge that wants a look first
  std::optional<Quantity> measured;
  std::optional<double> true_mm;

  std::optional<double> error_mm() const;  ///< measured less true
  std::optional<bool> inside_95() const;
};

/// Solves the planes of one part's photos and keeps what they came to in the record.
std::vector<PlanesResult> solve_demo_planes(Record& record, const PartSummary& part,
                                            const DemoJob& demo,
                                            std::shared_ptr<const CameraShelf> cameras);

/// A part's sizes as the program proposes them, without help: for a pad its friction material, for
/// a disc the sum from the rim and both lips to the worn thickness, then those from planes.
std::vector<DemoSize> demo_sizes(const PartSummary& part, const TrueSizes& truth,
                                 const std::vector<PlanesResult>& planes);

}  // namespace scantling
