#include <fmt/format.h>

#include <algorithm>

#include "report/report_pages.h"
#include "report/report_words.h"

namespace scantling {

namespace {

constexpr double kSourceColumn_mm = 80;
constexpr double kNumberColumn_mm = 16;
constexpr double kBar_mm = 26;

double row_height(const PageFlow& flow, const BudgetLine& line, double advice_width) {
  return std::max({text_extent(flow.said(line.source), kBodyText, kSourceColumn_mm).height,
                   text_extent(flow.said(line.advice), kSmallText, advice_width).height, 3.6}) +
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
    height += row_height(flow, line, advice_width);
  }
  flow.need(height + 14);  // with its heading and its foot on one page
  flow.heading(fmt::format("Where the uncertainty of the {} comes from", name));
  for (const BudgetLine& line : budget) {
    Page& page = flow.page();
    page.text({flow.left(), flow.y()}, flow.said(line.source), kBodyText, kSourceColumn_mm);
    page.text({flow.left() + kSourceColumn_mm, flow.y()},
              flow.said(fmt::format("{:.3f} mm", line.standard_uncertainty_mm)),
              aligned(kBodyText, Align::right), kNumberColumn_mm);
    if (largest > 0) {
      const double share = line.standard_uncertainty_mm / largest;
      page.fill_box({bar_x, flow.y() + 0.9, std::max(0.2, share * kBar_mm), 1.8}, grey(0.35));
    }
    if (!line.advice.empty())
      page.text({advice_x, flow.y() + 0.2}, flow.said(line.advice), kSmallText, advice_width);
    flow.space(row_height(flow, line, advice_width));
  }
  flow.paragraph(budget_foot(dimension.quantity), kLabelText);
}

void write_improvements(PageFlow& flow, const PartSummary& part) {
  const std::vector<std::string> words = improvement_words(part);
  if (words.empty()) return;
  flow.need(8 + 5 * static_cast<double>(words.size()));
  flow.heading(kImprovementsTitle);
  for (const std::string& sentence : words) flow.paragraph(sentence);
}

}  // namespace scantling
