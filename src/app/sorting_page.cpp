#include "app/sorting_page.h"

#include <algorithm>

#include "sorting/taken_time.h"

namespace scantling {
namespace fs = std::filesystem;

std::vector<int> SortingPage::add(const std::vector<fs::path>& photos) {
  std::vector<int> added;
  for (const fs::path& photo : photos) {
    const fs::path file = fs::absolute(photo).lexically_normal();
    if (std::any_of(rows_.begin(), rows_.end(),
                    [&](const SortingRow& row) { return row.sight.file == file; }))
      continue;
    SortingRow row;
    row.id = next_id_++;
    row.sight.file = file;
    rows_.push_back(std::move(row));
    added.push_back(rows_.back().id);
  }
  propose();
  return added;
}

SortingRow* SortingPage::find(int id) {
  const auto row =
      std::find_if(rows_.begin(), rows_.end(), [&](const SortingRow& r) { return r.id == id; });
  return row == rows_.end() ? nullptr : &*row;
}

bool SortingPage::has(int id) const {
  return std::any_of(rows_.begin(), rows_.end(),
                     [&](const SortingRow& row) { return row.id == id; });
}

void SortingPage::take_times(const std::vector<std::pair<int, std::string>>& taken_at) {
  for (const auto& [id, text] : taken_at) {
    SortingRow* row = find(id);
    if (!row || row->seen) continue;
    row->sight.taken_at = text;
    row->sight.taken_s = taken_time_s(text);
  }
  propose();
}

void SortingPage::take_sight(int id, PhotoSight sight) {
  SortingRow* row = find(id);
  if (!row) return;
  sight.file = row->sight.file;
  row->sight = std::move(sight);
  row->seen = true;
  propose();
}

void SortingPage::clear() {
  rows_.clear();
  said_.clear();
  taken_back_.clear();
  selected_ = 0;
  touched_ = false;
}

void SortingPage::remove(const std::set<int>& ids) {
  std::erase_if(rows_, [&](const SortingRow& row) { return ids.contains(row.id); });
  for (Said* list : {&said_, &taken_back_})
    std::erase_if(*list, [&](const auto& said) { return ids.contains(said.first); });
  selected_ = 0;
  touched_ = false;
  propose();
}

namespace {

bool same(const FiledPhoto& a, const FiledPhoto& b) {
  return a.sha256 == b.sha256 && a.place == b.place &&
         a.thickness.has_value() == b.thickness.has_value() &&
         (!a.thickness || a.thickness->value_mm == b.thickness->value_mm);
}

/// As the user says it is: what was read of another view means nothing.
PhotoSight as_said(const SortingRow& row) {
  PhotoSight sight = row.sight;
  if (!row.choice.view && !row.choice.bare_sheet) return sight;
  if (row.choice.bare_sheet || sight.view != row.choice.view) {
    sight.view = row.choice.view;
    sight.bare_sheet = row.choice.bare_sheet;
    sight.thickness.reset();
    sight.foot_mm.reset();
    sight.checks.clear();
  }
  sight.sureness = 1;
  sight.rival.reset();
  return sight;
}

}  // namespace

void SortingPage::set_context(SortingContext context) {
  const bool unchanged = context.start == context_.start &&
                         std::equal(context.filed.begin(), context.filed.end(),
                                    context_.filed.begin(), context_.filed.end(), same);
  if (unchanged) return;
  context_ = std::move(context);
  propose();
}

void SortingPage::propose() {
  std::vector<PhotoSight> sights;
  for (const SortingRow& row : rows_) sights.push_back(as_said(row));
  const int in_hand = rows_.empty() ? 0 : rows_[std::min(selected_, rows_.size() - 1)].id;
  std::vector<SortingRow> ordered;
  for (const std::size_t i : order_taken(sights)) ordered.push_back(std::move(rows_[i]));
  rows_ = std::move(ordered);
  std::vector<std::size_t> looked_at;
  sights.clear();
  std::vector<std::optional<PhotoPlace>> pinned;
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    if (!rows_[i].seen) continue;
    looked_at.push_back(i);
    sights.push_back(as_said(rows_[i]));
    pinned.push_back(rows_[i].choice.place);
  }
  std::vector<PhotoProposal> proposals = propose_places(sights, context_, pinned);
  for (std::size_t k = 0; k < looked_at.size(); ++k) {
    if (proposals[k].repeats) proposals[k].repeats->of = looked_at[proposals[k].repeats->of];
    rows_[looked_at[k]].proposal = std::move(proposals[k]);
  }
  selected_ = 0;
  if (touched_)
    for (std::size_t i = 0; i < rows_.size(); ++i)
      if (rows_[i].id == in_hand) selected_ = i;
}

std::size_t SortingPage::seen() const {
  return static_cast<std::size_t>(
      std::count_if(rows_.begin(), rows_.end(), [](const SortingRow& row) { return row.seen; }));
}

void SortingPage::select(std::size_t row) {
  if (row >= rows_.size()) return;
  selected_ = row;
  touched_ = true;
}

void SortingPage::step(int rows) {
  if (rows_.empty()) return;
  const long last = static_cast<long>(rows_.size()) - 1;
  select(static_cast<std::size_t>(std::clamp(static_cast<long>(selected_) + rows, 0L, last)));
  scroll_ = true;
}

void SortingPage::step_to_look() {
  for (std::size_t k = 1; k <= rows_.size(); ++k) {
    const std::size_t row = (selected_ + k) % rows_.size();
    if (!rows_[row].look()) continue;
    select(row);
    scroll_ = true;
    return;
  }
}

void SortingPage::say(SortingChoice choice) {
  if (rows_.empty() || !rows_[selected_].seen || rows_[selected_].choice == choice) return;
  touched_ = true;
  SortingRow& row = rows_[selected_];
  said_.emplace_back(row.id, std::exchange(row.choice, std::move(choice)));
  taken_back_.clear();
  propose();
}

void SortingPage::choose_view(View view) {
  say({view, false, std::nullopt});
}

void SortingPage::choose_bare_sheet() {
  say({std::nullopt, true, std::nullopt});
}

void SortingPage::choose_place(const PhotoPlace& place) {
  if (rows_.empty()) return;
  SortingChoice choice = rows_[selected_].choice;
  choice.place = place;
  say(std::move(choice));
}

std::vector<PhotoPlace> SortingPage::places() const {
  std::vector<PhotoPlace> places;
  if (const SortingRow* now = row()) {
    if (now->choice.bare_sheet || (now->sight.bare_sheet && !now->choice.view))
      places.push_back(PhotoPlace::camera());
    else if (const auto view = now->view())
      places = places_of_view(*view);
  }
  places.push_back(PhotoPlace::aside());
  return places;
}

void SortingPage::step_place(int step) {
  if (!row() || !row()->seen) return;
  const std::vector<PhotoPlace> all = places();
  const auto here = std::find(all.begin(), all.end(), row()->proposal.place);
  const long count = static_cast<long>(all.size());
  const long at = here == all.end() ? (step > 0 ? -1 : 0) : here - all.begin();
  choose_place(all[static_cast<std::size_t>((at + step + count) % count)]);
}

void SortingPage::step_view(int step) {
  constexpr View kViews[] = {View::pad, View::rim, View::lip, View::faces, View::pile};
  constexpr long kCount = 6;  // the bare sheet is the sixth
  if (!row() || !row()->seen) return;
  const bool bare = row()->choice.bare_sheet || (row()->sight.bare_sheet && !row()->choice.view);
  const std::optional<View> view = row()->view();
  long at = step > 0 ? -1 : 0;
  if (bare)
    at = kCount - 1;
  else if (view)
    at = std::find(std::begin(kViews), std::end(kViews), *view) - std::begin(kViews);
  const long next = (at + step + kCount) % kCount;
  if (next == kCount - 1)
    choose_bare_sheet();
  else
    choose_view(kViews[next]);
}

// What was left out comes back as what it shows, wherever that would have gone.
void SortingPage::leave_out_or_take() {
  const SortingRow* now = row();
  if (!now || !now->seen) return;
  if (now->proposal.place.goes != PhotoPlace::Goes::aside) return choose_place(PhotoPlace::aside());
  SortingChoice choice = now->choice;
  choice.place.reset();
  if (now->choice.place) return say(std::move(choice));
  // A double, or what shows nothing: the first place of its view.
  if (const std::vector<PhotoPlace> all = places(); all.size() > 1) choose_place(all.front());
}

bool SortingPage::undo_choice() {
  return exchange_choice(said_, taken_back_);
}

bool SortingPage::redo_choice() {
  return exchange_choice(taken_back_, said_);
}

bool SortingPage::exchange_choice(Said& from, Said& to) {
  if (from.empty()) return false;
  auto [id, other] = std::move(from.back());
  from.pop_back();
  if (SortingRow* row = find(id)) {
    to.emplace_back(id, std::exchange(row->choice, std::move(other)));
    touched_ = true;
    selected_ = static_cast<std::size_t>(row - rows_.data());
    scroll_ = true;
    propose();
  }
  return true;
}

SortingPage::Outcome SortingPage::outcome() const {
  Outcome outcome;
  std::vector<PartSlot> parts;
  for (const SortingRow& row : rows_) {
    if (!row.seen) continue;
    outcome.rows.insert(row.id);
    const PhotoPlace& place = row.proposal.place;
    if (place.goes == PhotoPlace::Goes::to_part) {
      outcome.files.push_back({row.sight.file, place.slot, place.kind});
      outcome.look += row.look();
      if (std::find(parts.begin(), parts.end(), place.slot) == parts.end())
        parts.push_back(place.slot);
    } else if (place.goes == PhotoPlace::Goes::to_camera) {
      outcome.camera.push_back(row.sight.file);
    } else {
      ++outcome.left_out;
    }
  }
  outcome.parts = parts.size();
  return outcome;
}

}  // namespace scantling
