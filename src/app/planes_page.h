#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/planes_solver.h"
#include "app/scene_view.h"
#include "app/view_transform.h"

namespace scantling {

/// One part's photos on their way to a size.
struct PlanesCase {
  std::shared_ptr<PlanesSolver> solver = std::make_shared<PlanesSolver>();
  PlanesOutcome outcome;
  bool running = false;  ///< a step is on the worker
  /// What a step failed at: not tried again before photos or options change.
  std::optional<PlanesTask> failed_at;
};

/// What the page of the sizes from planes remembers: the parts' cases, how the scene is turned and
/// which photo is shown in its place.
class PlanesPage {
 public:
  bool open() const { return open_; }
  void show() { open_ = true; }
  void hide() { open_ = false, photo_id_ = 0; }

  PlanesCase& of(std::int64_t part_id) { return cases_[part_id]; }
  const PlanesCase* find(std::int64_t part_id) const;
  int running() const;               ///< steps on the worker
  void forget() { cases_.clear(); }  ///< another job

  SceneView& scene() { return scene_; }
  /// The photo in the scene's place; 0: the scene.
  std::int64_t photo_id() const { return photo_id_; }
  void show_photo(std::int64_t photo_id);
  void show_scene() { photo_id_ = 0; }
  /// Another photo of the list, or the scene after the last one.
  void step_photo(const std::vector<std::int64_t>& photo_ids, int step);

  ViewTransform& photo_view() { return photo_view_; }
  /// True once after another photo was chosen: it is to be shown whole.
  bool take_reframing() { return std::exchange(reframe_, false); }
  void reframe() { reframe_ = true; }

  ScreenRect area;           ///< of the scene or photo, as last drawn
  bool turned = false;       ///< the press that is going on has turned the scene
  std::string card_text;     ///< the card's thickness as typed, not yet taken over
  std::string card_key;      ///< what it belongs to
  std::string card_refusal;  ///< why it could not be taken

 private:
  bool open_ = false;
  std::map<std::int64_t, PlanesCase> cases_;
  SceneView scene_;
  std::int64_t photo_id_ = 0;
  ViewTransform photo_view_;
  bool reframe_ = false;
};

}  // namespace scantling
