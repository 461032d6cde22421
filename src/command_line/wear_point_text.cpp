#include "command_line/wear_point_text.h"

#include <fmt/format.h>

#include <CLI/Error.hpp>

#include "command_line/number_text.h"

namespace scantling {

std::vector<WearPoint> wear_points_in(const std::string& option,
                                      const std::vector<std::string>& texts, double common_u_mm) {
  std::vector<WearPoint> points;
  for (const std::string& text : texts) {
    const std::vector<double> numbers = numbers_in(option, text, ':', 2, 3);
    WearPoint point{numbers[0], numbers[1]};
    if (numbers.size() == 3) point.standard_uncertainty_mm = numbers[2];
    if (common_u_mm > 0) {
      if (!(point.standard_uncertainty_mm.value_or(0) >= common_u_mm))
        throw CLI::ValidationError(
            option, fmt::format("'{}' must state an uncertainty that holds the common {} mm: write "
                                "it as KM:MM:U with U not below that",
                                text, common_u_mm));
      point.shared_mm = common_u_mm;
      point.shared_with = "common";
    }
    points.push_back(point);
  }
  return points;
}

}  // namespace scantling
