#include "accuracy/corpus_summary.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <ostream>

#include "accuracy/accuracy_summary.h"

namespace scantling::accuracy {
namespace {

struct Picked {
  const CorpusTrial* trial = nullptr;
  const CorpusSize* size = nullptr;
};

std::vector<Picked> pick(const std::vector<CorpusTrial>& trials, View view,
                         const std::string& name) {
  std::vector<Picked> picked;
  for (const CorpusTrial& trial : trials)
    if (trial.view == view && !trial.stopped)
      for (const CorpusSize& size : trial.sizes)
        if (size.found.name == name) picked.push_back({&trial, &size});
  return picked;
}

double quantile(std::vector<double> values, double share) {
  if (values.empty()) return 0;
  std::sort(values.begin(), values.end());
  const double place = share * static_cast<double>(values.size() - 1);
  const auto low = static_cast<std::size_t>(place);
  const double high = values[std::min(low + 1, values.size() - 1)];
  return values[low] + (place - std::floor(place)) * (high - values[low]);
}

void print_row(std::ostream& out, const std::string& title, const std::vector<Picked>& picked,
               std::size_t of, const SizeTrial CorpusSize::*which) {
  std::vector<const SizeTrial*> sizes;
  std::vector<double> px;
  for (const Picked& p : picked) {
    const SizeTrial& size = p.size->*which;
    sizes.push_back(&size);
    if (size.found) px.push_back(std::abs(size.error_mm()) * p.size->px_per_mm);
  }
  const SizeSummary s = summarise(title, sizes);
  out << fmt::format(
      "  {:<26} {:>3} of {:<3} {:6.3f} {:6.3f} {:6.3f}  {:6.2f} {:6.2f} {:6.2f}   {:5.1f}%  "
      "{:6.3f}  {:5.2f}\n",
      title, s.found, of, s.median_error_mm, s.error_95_mm, s.worst_error_mm, quantile(px, 0.5),
      quantile(px, 0.95), quantile(px, 1), 100 * s.inside_95_share, s.mean_half_width_mm,
      s.rms_error_over_u);
}

void print_view(std::ostream& out, const std::vector<CorpusTrial>& trials, View view,
                const std::vector<const char*>& names) {
  std::size_t parts = 0, stopped = 0;
  std::vector<double> ms;
  for (const CorpusTrial& trial : trials) {
    if (trial.view != view) continue;
    ++parts;
    stopped += trial.stopped;
    ms.insert(ms.end(), trial.photo_ms.begin(), trial.photo_ms.end());
  }
  if (parts == 0) return;
  out << fmt::format(
      "{}: {} parts, {} photos; {} stopped by a check; {:.0f} ms a photo (median), {:.0f} at most\n"
      "  {:<26} {:>10} {:>6} {:>6} {:>6}  {:>6} {:>6} {:>6}   {:>6}  {:>6}  {:>5}\n",
      view_word(view), parts, ms.size(), stopped, quantile(ms, 0.5), quantile(ms, 1), "", "found",
      "median", "95 %", "worst", "px", "95 %", "worst", "in 95%", "+-95%", "err/u");
  for (const char* name : names) {
    const std::vector<Picked> all = pick(trials, view, name);
    std::vector<Picked> sure;
    std::copy_if(all.begin(), all.end(), std::back_inserter(sure),
                 [](const Picked& p) { return p.size->found.found && !p.size->asks; });
    const long kept = std::count_if(all.begin(), all.end(),
                                    [](const Picked& p) { return p.size->kept_just_below; });
    out << " " << name << '\n';
    print_row(out, "as found", all, parts - stopped, &CorpusSize::found);
    print_row(out, "found, needing no look", sure, parts - stopped, &CorpusSize::found);
    print_row(out, "placed by a careful user", all, parts - stopped, &CorpusSize::confirmed);
    print_row(out, "edges on their true lines", all, parts - stopped, &CorpusSize::on_true_lines);
    out << fmt::format("  {} called keep with the minimum 0.01 mm above the true size\n", kept);
  }
  out << '\n';
}

/// What limits the sizes: how far the edges are found from their true lines, against how near the
/// noise would let anybody come.
void print_placings(std::ostream& out, const std::vector<CorpusTrial>& trials) {
  std::map<std::pair<View, std::string>, std::vector<CorpusPlacing>> by_edge;
  for (const CorpusTrial& trial : trials)
    if (!trial.stopped)
      for (const CorpusPlacing& placing : trial.placings)
        by_edge[{trial.view, placing.edge}].push_back(placing);
  out << fmt::format(
      "edges as found against their true lines\n  {:<26} {:>5} {:>9} {:>8} {:>9} "
      "{:>9} {:>9}\n",
      "", "edges", "median px", "95 % px", "median mm", "bound px", "blur px");
  for (const auto& [key, placings] : by_edge) {
    std::vector<double> px, mm, bound, blur;
    for (const CorpusPlacing& placing : placings) {
      px.push_back(std::abs(placing.off_px));
      mm.push_back(std::abs(placing.off_px) / placing.px_per_mm);
      bound.push_back(placing.bound_px);
      blur.push_back(placing.blur_px);
    }
    out << fmt::format("  {:<26} {:>5} {:9.2f} {:8.2f} {:9.3f} {:9.3f} {:9.2f}\n",
                       std::string(view_word(key.first)) + " " + key.second, px.size(),
                       quantile(px, 0.5), quantile(px, 0.95), quantile(mm, 0.5),
                       quantile(bound, 0.5), quantile(blur, 0.5));
  }
  out << '\n';
}

void print_worst(std::ostream& out, const std::vector<CorpusTrial>& trials, const char* title,
                 const SizeTrial CorpusSize::*which, int count) {
  std::vector<Picked> order;
  for (const CorpusTrial& trial : trials)
    for (const CorpusSize& size : trial.sizes)
      if ((size.*which).found && size.found.name != "overall_thickness")
        order.push_back({&trial, &size});
  std::sort(order.begin(), order.end(), [&](const Picked& a, const Picked& b) {
    return std::abs((a.size->*which).error_mm()) > std::abs((b.size->*which).error_mm());
  });
  if (count > 0) out << "worst, " << title << '\n';
  for (std::size_t i = 0; i < order.size() && i < static_cast<std::size_t>(count); ++i) {
    const SizeTrial& size = order[i].size->*which;
    out << fmt::format(
        "  {:<34} {:<19} {:7.3f}, true {:7.3f}: {:+.3f} +-{:.3f}{}; {}\n", order[i].trial->name,
        size.name, size.value_mm, size.truth_mm, size.error_mm(), size.expanded_95_mm,
        order[i].size->asks && which == &CorpusSize::found ? ", asks" : "", size.largest_cause);
  }
}

}  // namespace

void print_corpus_report(std::ostream& out, const std::vector<CorpusTrial>& trials, int worst) {
  print_view(out, trials, View::pad,
             {"friction_thickness", "plate_thickness", "overall_thickness"});
  print_view(out, trials, View::rim, {"rim_thickness"});
  print_view(out, trials, View::lip, {"lip_height"});
  print_placings(out, trials);
  print_worst(out, trials, "as found", &CorpusSize::found, worst);
  print_worst(out, trials, "placed by a careful user", &CorpusSize::confirmed, worst);
  for (const CorpusTrial& trial : trials) {
    if (!any_stop(trial.checks)) continue;
    out << (trial.stopped ? "refused: " : "not found: ") << trial.name;
    for (const Check& check : trial.checks)
      if (check.severity == Severity::stop) out << ": " << check.message;
    out << '\n';
  }
}

}  // namespace scantling::accuracy
