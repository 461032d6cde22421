#include "app/planes_page.h"

#include <algorithm>

namespace scantling {

const PlanesCase* PlanesPage::find(std::int64_t part_id) const {
  const auto known = cases_.find(part_id);
  return known == cases_.end() ? nullptr : &known->second;
}

int PlanesPage::running() const {
  return static_cast<int>(std::count_if(cases_.begin(), cases_.end(),
                                        [](const auto& known) { return known.second.running; }));
}

void PlanesPage::show_photo(std::int64_t photo_id) {
  reframe_ = reframe_ || photo_id != photo_id_;
  photo_id_ = photo_id;
}

void PlanesPage::step_photo(const std::vector<std::int64_t>& photo_ids, int step) {
  // The scene counts as the place before the first one.
  const auto here = std::find(photo_ids.begin(), photo_ids.end(), photo_id_);
  const int count = static_cast<int>(photo_ids.size()) + 1;
  const int at = here == photo_ids.end() ? 0 : static_cast<int>(here - photo_ids.begin()) + 1;
  const int next = ((at + step) % count + count) % count;
  next == 0 ? show_scene() : show_photo(photo_ids[static_cast<std::size_t>(next - 1)]);
}

}  // namespace scantling
