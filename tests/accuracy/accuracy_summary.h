#pragma once

#include <iosfwd>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "accuracy/accuracy_trial.h"
#include "accuracy/disc_trial.h"

namespace scantling::accuracy {

/// How one size came out over many photos. Shares are of the photos, errors of those where found.
struct SizeSummary {
  std::string name;
  int photos = 0;
  int found = 0;
  double median_error_mm = 0;  ///< of the absolute error
  double error_95_mm = 0;
  double worst_error_mm = 0;
  double mean_error_mm = 0;       ///< signed
  double inside_95_share = 0;     ///< truth inside the stated 95 % interval
  double mean_half_width_mm = 0;  ///< of that interval
  double rms_error_over_u = 0;    ///< 1 where the standard uncertainty is right
};

SizeSummary summarise(const std::string& name, const std::vector<const SizeTrial*>& sizes);
SizeSummary summarise(const std::vector<const Trial*>& trials, const std::string& name);

/// The disc's table: every size over all photos, and over those whose edges are sure.
void print_disc_report(std::ostream& out, const std::vector<DiscTrial>& trials, int worst);

/// A table for each kind of photo, and the worst photos with what is known about them.
void print_report(std::ostream& out, const std::vector<Trial>& trials, int worst);

nlohmann::ordered_json report_json(const std::vector<Trial>& trials);

}  // namespace scantling::accuracy
