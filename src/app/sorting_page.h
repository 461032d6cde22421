#pragma once

#include <filesystem>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "sorting/file_photos.h"
#include "sorting/place_photos.h"

namespace scantling {

/// What the user has said about one photo; the rest is proposed.
struct SortingChoice {
  std::optional<View> view;
  bool bare_sheet = false;
  std::optional<PhotoPlace> place;
  bool operator==(const SortingChoice&) const = default;
};

/// One photo on the sorting page. It is only named here: nothing is copied before it is filed.
struct SortingRow {
  int id = 0;         ///< for good, whatever is added or taken off
  bool seen = false;  ///< it was looked at; before that only its name and time are known
  PhotoSight sight;
  SortingChoice choice;
  PhotoProposal proposal;

  bool chosen() const { return choice.view || choice.bare_sheet || choice.place; }
  /// Wants the user's eye before it is filed.
  bool look() const {
    return seen && proposal.place.goes != PhotoPlace::Goes::aside && proposal.sureness < kLookBelow;
  }
  /// As the user says, else as recognised.
  std::optional<View> view() const { return choice.view ? choice.view : sight.view; }
};

/// The photos that wait to be sorted, without a window: rows, proposals, what the user has said.
class SortingPage {
 public:
  bool open() const { return open_; }
  void show() { open_ = true; }
  void hide() { open_ = false; }

  /// Adds what is not on the page yet; returns the new rows' ids.
  std::vector<int> add(const std::vector<std::filesystem::path>& photos);
  /// Taken over on the main thread from the worker's looking: first the times, then the rest.
  void take_times(const std::vector<std::pair<int, std::string>>& taken_at);
  void take_sight(int id, PhotoSight sight);
  void clear();
  void remove(const std::set<int>& ids);

  /// What the job holds; where it changed the proposals are made anew.
  void set_context(SortingContext context);

  /// In the order taken.
  const std::vector<SortingRow>& rows() const { return rows_; }
  bool empty() const { return rows_.empty(); }
  bool has(int id) const;
  std::size_t seen() const;
  bool complete() const { return seen() == rows_.size(); }

  // The row in hand.
  std::size_t selected() const { return selected_; }
  const SortingRow* row() const { return rows_.empty() ? nullptr : &rows_[selected_]; }
  void select(std::size_t row);
  void step(int rows);
  void step_to_look();  ///< the next row that wants the user's eye
  bool take_scroll() { return std::exchange(scroll_, false); }

  // What the user says of it; the rows after it follow suit.
  void choose_view(View view);
  void choose_bare_sheet();
  void choose_place(const PhotoPlace& place);
  void step_place(int step);  ///< through the places of its view, and leaving it out
  void step_view(int step);
  void leave_out_or_take();
  bool undo_choice();  ///< the last thing said; false where nothing is
  bool redo_choice();  ///< what was taken back last; false where nothing is

  /// The places that the row's view allows, and leaving it out.
  std::vector<PhotoPlace> places() const;

  struct Outcome {
    std::vector<PhotoToFile> files;
    std::vector<std::filesystem::path> camera;  ///< of the bare sheet
    std::set<int> rows;                         ///< all that are settled by it, those left out too
    std::size_t left_out = 0;
    std::size_t look = 0;  ///< of `files`, not looked at yet
    std::size_t parts = 0;
  };
  /// What filing would do now; photos not looked at yet stay on the page.
  Outcome outcome() const;

 private:
  void propose();
  void say(SortingChoice choice);
  using Said = std::vector<std::pair<int, SortingChoice>>;
  bool exchange_choice(Said& from, Said& to);
  SortingRow* find(int id);

  bool open_ = false;
  std::vector<SortingRow> rows_;
  SortingContext context_;
  std::size_t selected_ = 0;
  bool touched_ = false;  ///< the user has chosen a row: it stays in hand when others come
  bool scroll_ = false;
  int next_id_ = 1;
  Said said_;        ///< rows with their choice before
  Said taken_back_;  ///< rows with the choice that was taken back
};

}  // namespace scantling
