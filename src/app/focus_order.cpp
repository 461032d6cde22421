#include "app/focus_order.h"

#include <algorithm>

namespace scantling {

// A thing may be named twice: as the button it is and as what it means.
void FocusOrder::add(const FocusStop& stop) {
  if (!has(stop.panel, stop.id)) stops_.push_back(stop);
}

bool FocusOrder::has(unsigned panel, unsigned id) const {
  return std::any_of(stops_.begin(), stops_.end(),
                     [&](const FocusStop& stop) { return stop.id == id && stop.panel == panel; });
}

std::optional<FocusStop> FocusOrder::beside(unsigned panel, unsigned id, int step) const {
  std::vector<FocusStop> here;
  for (const FocusStop& stop : stops_)
    if (stop.panel == panel) here.push_back(stop);
  if (here.empty()) return {};
  const auto now =
      std::find_if(here.begin(), here.end(), [&](const FocusStop& stop) { return stop.id == id; });
  if (now == here.end()) return step > 0 ? here.front() : here.back();
  const long count = static_cast<long>(here.size());
  return here[static_cast<std::size_t>((now - here.begin() + step + count) % count)];
}

std::vector<unsigned> FocusOrder::panels() const {
  std::vector<unsigned> panels;
  for (const FocusStop& stop : stops_)
    if (std::find(panels.begin(), panels.end(), stop.panel) == panels.end())
      panels.push_back(stop.panel);
  return panels;
}

}  // namespace scantling
