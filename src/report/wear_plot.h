#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "print/page.h"
#include "report/figure_style.h"
#include "report/part_summary.h"

namespace scantling {

/// All that a drawing of a part's wear shows, for window, report and HTML
/// alike.
struct WearPlot {
  struct Point {
    double km = 0;
    double mm = 0;
    double half_95_mm = 0;  ///< of the bar through the point
    std::string label;
    std::int64_t job_id = 0;
  };
  std::vector<Point> points;
  std::vector<ForetoldSize> curve;  ///< fitted line with its 95 % prediction band
  std::optional<double> minimum_mm;
  double now_km = 0;
  std::optional<double> next_check_km;
  double first_km = 0, last_km = 1, low_mm = 0,
         high_mm = 1;  ///< what the axes cover

  /// Round places for axis marks between two ends, about `count` of them.
  static std::vector<double> marks(double low, double high, int count);
  /// The same for the sizes' axis, round in the unit: where in mm, and what to write there.
  std::vector<std::pair<double, std::string>> size_marks(const FigureStyle& style) const;
  /// And for the odometer's: where in km, and how many thousand of the unit.
  std::vector<std::pair<double, std::string>> distance_marks(const FigureStyle& style) const;
};

/// Nothing where the part has no fitted forecast.
std::optional<WearPlot> wear_plot(const PartSummary& part);
/// The same where nothing could be fitted: the sizes alone, without a line, so that one can see
/// which of them is odd. Nothing without a size.
std::optional<WearPlot> wear_points(const PartSummary& part);
/// Why there is no line, and what to do about it; empty where there is one.
std::vector<std::string> no_wear_line(const PartSummary& part);

/// "Wears 0.039 mm per 1 000 km (0.062 per 1 000 miles), about 28 000 km left;
/// go by 21 000 km."
std::vector<std::string> wear_sentences(const PartSummary& part);

void draw_wear_plot(Page& page, const PageBox& box, const WearPlot& plot,
                    const FigureStyle& style = {});

}  // namespace scantling
