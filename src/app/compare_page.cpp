#include "app/compare_page.h"

#include <algorithm>
#include <utility>

namespace scantling {

void ComparePage::hide() {
  open_ = false;
  shown_id_ = 0;
  choices_.clear();
  asked_.clear();
  opened_id_ = 0;
  photo_ = {};
  texture_.clear();
  pointed.reset();
  panning = false;
}

void ComparePage::offer(std::int64_t shown_id, std::vector<CompareChoice> choices) {
  const std::int64_t kept = choice() ? choice()->photo.id : 0;
  if (shown_id != shown_id_) framing_ = CompareFraming::part;
  shown_id_ = shown_id;
  choices_ = std::move(choices);
  const auto still = std::find_if(choices_.begin(), choices_.end(),
                                  [&](const CompareChoice& c) { return c.photo.id == kept; });
  at_ = still == choices_.end() ? 0 : static_cast<std::size_t>(still - choices_.begin());
}

const CompareChoice* ComparePage::choice() const {
  return at_ < choices_.size() ? &choices_[at_] : nullptr;
}

void ComparePage::step(int by) {
  const int count = static_cast<int>(choices_.size());
  if (count > 0)
    at_ = static_cast<std::size_t>(((static_cast<int>(at_) + by) % count + count) % count);
}

std::int64_t ComparePage::take_wanted() {
  if (!open_ || !choice()) return 0;
  const std::int64_t id = choice()->photo.id;
  if (id == opened_id_ || !asked_.insert(id).second) return 0;
  return id;
}

void ComparePage::opened(std::int64_t photo_id, ComparedPhoto photo) {
  asked_.erase(photo_id);
  if (!open_ || !choice() || choice()->photo.id != photo_id) return;
  opened_id_ = photo_id;
  photo_ = std::move(photo);
  texture_.set(photo_id, std::move(photo_.colours));
  photo_.colours = {};
}

const ComparedPhoto* ComparePage::other() const {
  return choice() && opened_id_ == choice()->photo.id ? &photo_ : nullptr;
}

}  // namespace scantling
