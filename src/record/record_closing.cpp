// What outlives or closes a job: cameras, verdicts, the work done, copies of
// the whole.
#include <nlohmann/json.hpp>

#include "base/version.h"
#include "record/record_state.h"
#include "record/schema.h"

namespace scantling {

namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kOpenAgain = "null";  ///< JSON in place of the work done
constexpr const char* kCameraColumns = "SELECT id, make, model, profile FROM camera ";
constexpr const char* kVerdictColumns =
    "SELECT id, part_id, state, probability_below, size_mm, "
    "standard_uncertainty_mm, "
    "degrees_of_freedom, minimum_mm, minimum_origin, because, rule, "
    "engine_version, made_at "
    "FROM verdict ";

Camera camera_of(const SQLite::Statement& row) {
  return {row.getColumn(0).getInt64(), row.getColumn(1).getString(), row.getColumn(2).getString(),
          row.getColumn(3).getString()};
}

VerdictEntry verdict_of(const SQLite::Statement& row) {
  VerdictEntry v;
  v.id = row.getColumn(0).getInt64();
  v.part_id = row.getColumn(1).getInt64();
  v.state = row.getColumn(2).getString();
  v.probability_below = optional_number(row.getColumn(3));
  v.size_mm = optional_number(row.getColumn(4));
  v.standard_uncertainty_mm = optional_number(row.getColumn(5));
  v.degrees_of_freedom = optional_number(row.getColumn(6));
  v.minimum_mm = row.getColumn(7).getDouble();
  v.minimum_origin = row.getColumn(8).getString();
  try {
    v.because = Json::parse(row.getColumn(9).getString()).get<std::vector<std::string>>();
  } catch (const Json::exception&) {
    throw RecordError("A stored verdict cannot be read: judge the part again.");
  }
  v.rule = row.getColumn(10).getString();
  v.engine_version = row.getColumn(11).getString();
  v.made_at = row.getColumn(12).getString();
  return v;
}

}  // namespace

std::int64_t Record::State::camera_row(const std::string& make, const std::string& model) {
  prepared(database,
           "INSERT INTO camera (make, model, added_at) VALUES (?, ?, ?) "
           "ON CONFLICT (make, model) DO NOTHING",
           make, model, time_of_change())
      .exec();
  return row(prepared(database, "SELECT id FROM camera WHERE make = ? AND model = ?", make, model),
             [](const SQLite::Statement& found) { return found.getColumn(0).getInt64(); })
      .value();
}

std::vector<Camera> Record::cameras() const {
  return state_->read([&] {
    return rows(state_->shelf.lend(state_->database, query(kCameraColumns, "ORDER BY make, model")),
                camera_of);
  });
}

std::optional<Camera> Record::camera(std::int64_t camera_id) const {
  return state_->read([&] {
    return row(
        state_->shelf.lend(state_->database, query(kCameraColumns, "WHERE id = ?"), camera_id),
        camera_of);
  });
}

std::int64_t Record::keep_camera(const Camera& camera) {
  if (!camera.profile.empty() && !Json::accept(camera.profile))
    throw RecordError(
        "The camera's profile is no JSON: make it again from the "
        "sheet's photos.");
  return state_->change("save the camera", [&] {
    const std::int64_t id = state_->camera_row(camera.make, camera.model);
    if (!camera.profile.empty())
      changed(state_->database, "camera", "UPDATE camera SET profile = ? WHERE id = ?",
              camera.profile, id);
    return id;
  });
}

std::int64_t Record::add_verdict(const VerdictEntry& v) {
  return state_->change("save the verdict", [&] {
    return inserted(state_->database,
                    "INSERT INTO verdict (part_id, state, probability_below, size_mm, "
                    "standard_uncertainty_mm, degrees_of_freedom, minimum_mm, "
                    "minimum_origin, because, rule, "
                    "engine_version, made_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                    v.part_id, v.state, v.probability_below, v.size_mm, v.standard_uncertainty_mm,
                    v.degrees_of_freedom, v.minimum_mm, v.minimum_origin,
                    Json(v.because).dump(-1, ' ', false, Json::error_handler_t::replace), v.rule,
                    v.engine_version.empty() ? kVersion : v.engine_version.c_str(),
                    or_now(v.made_at));
  });
}

std::vector<VerdictEntry> Record::verdicts(std::int64_t part_id) const {
  return state_->read([&] {
    return rows(
        state_->shelf.lend(state_->database,
                           query(kVerdictColumns, "WHERE part_id = ? ORDER BY id"), part_id),
        verdict_of);
  });
}

void Record::set_work(std::int64_t job_id, const WorkDone& work) {
  require_sense(work);
  const std::string text = work_to_text(work);
  state_->change("save the work done", [&] {
    inserted(state_->database, "INSERT INTO work_done (job_id, work, saved_at) VALUES (?, ?, ?)",
             job_id, text, time_of_change());
    if (work.next_check_km || !work.next_check_date.empty())
      changed(state_->database, "job",
              "UPDATE job SET next_check_km = coalesce(?, next_check_km), "
              "next_check_date = coalesce(?, next_check_date) WHERE id = ? AND removed_at IS NULL",
              work.next_check_km,
              work.next_check_date.empty() ? std::nullopt : std::optional(work.next_check_date),
              job_id);
  });
}

std::optional<WorkDone> Record::work(std::int64_t job_id) const {
  return state_->read([&] {
    return row(state_->shelf.lend(state_->database,
                                  "SELECT work FROM work_done WHERE job_id = ? "
                                  "ORDER BY id DESC LIMIT 1",
                                  job_id),
               [](const SQLite::Statement& found) -> std::optional<WorkDone> {
                 const std::string text = found.getColumn(0).getString();
                 if (text == kOpenAgain) return std::nullopt;
                 return work_from_text(text);
               })
        .value_or(std::nullopt);
  });
}

void Record::reopen_job(std::int64_t job_id) {
  state_->change("open the job again", [&] {
    inserted(state_->database, "INSERT INTO work_done (job_id, work, saved_at) VALUES (?, ?, ?)",
             job_id, kOpenAgain, time_of_change());
  });
}

void Record::as_one_change(const std::function<void()>& work) {
  state_->change("save the change", [&] {
    const struct Depth {
      explicit Depth(int& deep) : deep_(++deep) {}
      ~Depth() { --deep_; }
      int& deep_;
    } depth(state_->changes_deep);
    work();
  });
}

std::filesystem::path Record::back_up() const {
  return state_->read([&] {
    return back_up_database(state_->database, state_->path,
                            state_->database.execAndGet("PRAGMA user_version").getInt());
  });
}

}  // namespace scantling
