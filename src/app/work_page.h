#pragma once

#include <string>

#include "app/work_form.h"

namespace scantling {

/// The page on which a job is closed with the work done. What is typed is saved as soon as a field
/// is left and the whole makes sense; until then `refusal` says what does not.
class WorkPage {
 public:
  bool open() const { return open_; }
  void show() { open_ = true, stored_ = kNever; }
  void hide() { open_ = false; }

  /// Fills the form from the record where that says something else than it did: at first, and
  /// after an undo.
  void follow(const JobSummary& job, const std::string& person, const FigureStyle& style,
              double check_every_km) {
    const std::string now = key(job);
    if (now == stored_ && form.style == style) return;
    stored_ = now;
    form = work_form(job, person, style, check_every_km);
    refusal.clear();
  }
  /// The record now says what the form does.
  void stored(const JobSummary& job) { stored_ = key(job), refusal.clear(); }

  WorkForm form;
  std::string refusal;
  WorkDone shown;  ///< what the list beside the form is made from

 private:
  static constexpr const char* kNever = "never";
  static std::string key(const JobSummary& job) {
    return std::to_string(job.job.id) + (job.work ? work_to_text(*job.work) : " open");
  }

  bool open_ = false;
  std::string stored_ = kNever;
};

}  // namespace scantling
