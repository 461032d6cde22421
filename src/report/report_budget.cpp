#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/report_pages.h"
#include "report/state_look.h"
#include "report/wording.h"

namespace scantling {

namespace {

constexpr double kSourceColumn_mm = 80;
constexpr double kNumberColumn_mm = 16;
constexpr double kBar_mm = 26;

// A part that adds less than a thousandth to the whole is named with its like.
constexpr double kNamedFrom = 0.045;  ///< of the combined standard uncertainty

std::vector<BudgetLine> lines_to_show(const Quantity& size) {
  std::vector<BudgetLine> shown;
  double rest = 0;
  int unnamed = 0;
  for (const BudgetLine& line : size.budget) {
    if (line.standard_uncertainty_mm >= kNamedFrom * size.standard_uncertainty_mm) {
      shown.push_back(line);
    } else {
      rest = std::hypot(rest, line.standard_uncertainty_mm);
      ++unnamed;
    }
  }
  if (unnamed > 0)
    shown.push_back({fmt::format("{} smaller part{} together", unnamed, unnamed == 1 ? "" : "s"),
                     rest,
                     kUnlimitedDegreesOfFreedom,
                     {}});
  return shown;
}

double row_height(const BudgetLine& line, double advice_width) {
  return std::max({text_extent(line.source, kBodyText, kSourceColumn_mm).height,
                   text_extent(line.advice, kSmallText, advice_width).height, 3.6}) +
         0.4;
}

}  // namespace

void write_budget(PageFlow& flow, const Dimension& dimension, std::string_view name) {
  if (dimension.quantity.budget.empty()) return;
  const std::vector<BudgetLine> budget = lines_to_show(dimension.quantity);
  const double bar_x = flow.left() + kSourceColumn_mm + kNumberColumn_mm + 3;
  const double advice_x = bar_x + kBar_mm + 4;
  const double advice_width = flow.right() - advice_x;
  double largest = 0, height = 0;
  for (const BudgetLine& line : budget) {
    largest = std::max(largest, line.standard_uncertainty_mm);
    height += row_height(line, advice_width);
  }
  flow.need(height + 14);  // with its heading and its foot on one page
  flow.heading(fmt::format("Where the uncertainty of the {} comes from", name));
  for (const BudgetLine& line : budget) {
    Page& page = flow.page();
    page.text({flow.left(), flow.y()}, line.source, kBodyText, kSourceColumn_mm);
    page.text({flow.left() + kSourceColumn_mm, flow.y()},
              fmt::format("{:.3f} mm", line.standard_uncertainty_mm),
              aligned(kBodyText, Align::right), kNumberColumn_mm);
    if (largest > 0) {
      const double share = line.standard_uncertainty_mm / largest;
      page.fill_box({bar_x, flow.y() + 0.9, std::max(0.2, share * kBar_mm), 1.8}, grey(0.35));
    }
    if (!line.advice.empty())
      page.text({advice_x, flow.y() + 0.2}, line.advice, kSmallText, advice_width);
    flow.space(row_height(line, advice_width));
  }
  flow.paragraph(
      fmt::format("Standard uncertainties, largest first (GUM, JCGM 100). Together {:.3f} "
                  "mm; for 95 % that is \u00B1 {:.3f} mm.",
                  dimension.quantity.standard_uncertainty_mm, dimension.quantity.expanded_95_mm()),
      kLabelText);
}

}  // namespace scantling
