#include "command_line/open_record.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "base/check.h"
#include "command_line/exit_status.h"
#include "record/record_error.h"

namespace scantling {

namespace {

const CLI::Option* programs_option(const CLI::App* program) {
  return program ? program->get_option_no_throw("--record") : nullptr;
}

}  // namespace

bool RecordChoice::given() const {
  const CLI::Option* before = programs_option(program);
  return !file.empty() || (before && before->count() > 0);
}

std::filesystem::path RecordChoice::path() const {
  if (!file.empty()) return file;
  if (given()) return programs_option(program)->as<std::string>();
  return Record::default_path();
}

std::shared_ptr<RecordChoice> add_record_option(CLI::App& program, CLI::App& command) {
  auto choice = std::make_shared<RecordChoice>();
  choice->program = &program;
  command.add_option("--record", choice->file, "The job record; yours where not given")
      ->type_name("FILE");
  return choice;
}

std::optional<JobSummary> summary_or_complaint(const Record& record, std::int64_t job) {
  auto summary = summarise_job(record, job);
  if (!summary)
    report_unusable("job_missing",
                    fmt::format("There is no job {} in {}: scantling jobs lists them.", job,
                                record.path().string()),
                    false);
  return summary;
}

int report_unusable(const std::string& id, const std::string& message, bool json) {
  if (json) {
    nlohmann::ordered_json object;
    object["checks"] = nlohmann::ordered_json::array(
        {{{"id", id}, {"severity", severity_word(Severity::stop)}, {"message", message}}});
    fmt::print("{}\n", object.dump(1, ' ', false, nlohmann::json::error_handler_t::replace));
  }
  fmt::print(stderr, "scantling: {}\n", message);
  return kInputUnusable;
}

int with_existing_record(const RecordChoice& choice, bool json,
                         const std::function<int(Record&)>& work) {
  const std::filesystem::path path = choice.path();
  std::error_code ignored;
  if (!std::filesystem::exists(path, ignored))
    return report_unusable("record_missing",
                           fmt::format("There is no record {}: {}", path.string(),
                                       choice.given() ? "check the name after --record."
                                                      : "start a job in the app first, or name "
                                                        "another with --record."),
                           json);
  try {
    Record record(path);
    return work(record);
  } catch (const RecordError& error) {
    return report_unusable("record_unusable", error.what(), json);
  }
}

}  // namespace scantling
