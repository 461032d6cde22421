#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <vector>

#include "app/card_view.h"
#include "app/compare_choice.h"
#include "app/photo_texture.h"
#include "dimension/analysis.h"
#include "report/part_summary.h"

namespace scantling {

/// A photo beside the one on the canvas, with all that its pane shows.
struct ComparedPhoto {
  PhotoColours colours;
  std::optional<Analysis> analysis;
  std::optional<PhotoFinding> finding;
};

/// What the two panes are to show next: nothing new, the parts' edges, or the whole cards.
enum class CompareFraming { none, part, card };

/// What the side-by-side view remembers: what the photo may be compared with, the other photo, and
/// the view both panes share.
class ComparePage {
 public:
  bool open() const { return open_; }
  void show() { open_ = true, framing_ = CompareFraming::part; }
  void hide();

  /// Takes another list where the photo on the canvas, or what there is beside it, has changed.
  void offer(std::int64_t shown_id, std::vector<CompareChoice> choices);
  std::int64_t shown_id() const { return shown_id_; }
  const std::vector<CompareChoice>& choices() const { return choices_; }
  const CompareChoice* choice() const;  ///< null where there is none
  std::size_t number() const { return at_; }
  void step(int by);

  /// The photo that is still to be opened, once; 0: none.
  std::int64_t take_wanted();
  void opened(std::int64_t photo_id, ComparedPhoto photo);
  /// The other photo; null while it is being opened.
  const ComparedPhoto* other() const;
  PhotoTexture& texture() { return texture_; }

  CompareFraming framing() const { return framing_; }
  void frame(CompareFraming wanted) { framing_ = wanted; }
  void framed() { framing_ = CompareFraming::none; }

  CardView view;
  ScreenRect pane;                  ///< the left one, as last drawn
  Point_mm card_middle{64, 45};     ///< of what was framed last
  std::optional<Point_mm> pointed;  ///< under the pointer, in either pane
  bool panning = false;

 private:
  bool open_ = false;
  CompareFraming framing_ = CompareFraming::none;
  std::int64_t shown_id_ = 0;
  std::vector<CompareChoice> choices_;
  std::size_t at_ = 0;
  std::set<std::int64_t> asked_;
  std::int64_t opened_id_ = 0;
  ComparedPhoto photo_;
  PhotoTexture texture_;
};

}  // namespace scantling
