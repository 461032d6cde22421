// scantling export, scantling import
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>

#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/open_record.h"
#include "exchange/job_file.h"
#include "exchange/job_import.h"
#include "record/record_error.h"
#include "report/summary.h"

namespace scantling {

namespace {

using Json = nlohmann::ordered_json;

struct ExportOptions {
  std::int64_t job = 0;
  std::string out;
};

struct ImportOptions {
  std::string file;
  std::string choice;
  bool dry_run = false;
  bool json = false;
};

ImportChoice choice_from(const std::string& word) {
  if (word == "mine") return ImportChoice::mine;
  if (word == "theirs") return ImportChoice::theirs;
  return word == "both" ? ImportChoice::both : ImportChoice::none;
}

void print_conflicts(const std::vector<ImportConflict>& conflicts) {
  for (const ImportConflict& c : conflicts)
    fmt::print("  {}: in the record \"{}\", in the file \"{}\"\n", c.what, c.mine, c.theirs);
}

Json conflicts_json(const std::vector<ImportConflict>& conflicts) {
  Json list = Json::array();
  for (const ImportConflict& c : conflicts)
    list.push_back({{"what", c.what}, {"mine", c.mine}, {"theirs", c.theirs}});
  return list;
}

std::string text_of(const Json& json) {
  return json.dump(1, ' ', false, Json::error_handler_t::replace);
}

int import_into(Record& record, const JobImport& import, const ImportOptions& options) {
  const std::vector<ImportConflict> conflicts = import.conflicts(record);
  const ImportChoice choice = choice_from(options.choice);
  if (options.dry_run || (choice == ImportChoice::none && !conflicts.empty())) {
    if (options.json) {
      fmt::print("{}\n", text_of({{"job", nullptr}, {"conflicts", conflicts_json(conflicts)}}));
    } else if (conflicts.empty()) {
      fmt::print("The file can be taken in; nothing in the record contradicts it.\n");
    } else {
      fmt::print("The record and the file differ:\n");
      print_conflicts(conflicts);
    }
    if (options.dry_run) return kDone;
    fmt::print(stderr,
               "scantling: Choose whose word counts: --on-conflict "
               "mine, theirs or both. Nothing was "
               "taken in.\n");
    return kInputUnusable;
  }
  const std::int64_t job = import.into(record, choice);
  if (options.json)
    fmt::print("{}\n", text_of({{"job", job}, {"conflicts", conflicts_json(conflicts)}}));
  else
    fmt::print("The job is number {} in {}.\n", job, record.path().string());
  return kDone;
}

int run_import(const RecordChoice& choice, const ImportOptions& options) {
  try {
    const JobImport import(options.file);
    Record record(choice.path());
    return import_into(record, import, options);
  } catch (const ExchangeError& error) {
    return report_unusable("file_unusable", error.what(), options.json);
  } catch (const RecordError& error) {
    return report_unusable("record_unusable", error.what(), options.json);
  }
}

}  // namespace

void add_exchange_commands(CLI::App& app, Work& work) {
  CLI::App* give = app.add_subcommand("export",
                                      "Writes a job as one zip file: its data as JSON with the "
                                      "schema, its photos and its report.\n"
                                      "Example: scantling export 3 --out brakes.zip");
  const auto out = std::make_shared<ExportOptions>();
  const auto from = add_record_option(app, *give);
  give->add_option("job", out->job, "The job's number, as scantling jobs lists it")
      ->type_name("JOB")
      ->required();
  give->add_option("--out", out->out, "The zip file")->type_name("FILE.zip")->required();
  give->callback([=, &work] {
    work = [=] {
      return with_existing_record(*from, false, [&](Record& record) {
        try {
          if (const auto summary = summarise_job(record, out->job)) keep_verdicts(record, *summary);
          export_job(record, out->job, out->out);
        } catch (const ExchangeError& error) {
          return report_unusable("export_failed", error.what(), false);
        }
        fmt::print(stderr, "scantling: wrote {}\n", out->out);
        return static_cast<int>(kDone);
      });
    };
  });

  CLI::App* take =
      app.add_subcommand("import",
                         "Takes a job in that scantling export wrote. It is checked whole first; "
                         "all of it goes in, or "
                         "nothing.\nExample: scantling import brakes.zip --on-conflict both");
  const auto in = std::make_shared<ImportOptions>();
  const auto into = add_record_option(app, *take);
  take->add_option("file", in->file, "The zip file")->type_name("FILE.zip")->required();
  take->add_option("--on-conflict", in->choice,
                   "Where the record says otherwise: mine, theirs, or both "
                   "beside each other")
      ->type_name("mine|theirs|both")
      ->check(CLI::IsMember({"mine", "theirs", "both"}));
  take->add_flag("--dry-run", in->dry_run, "Only check the file and show the conflicts");
  take->add_flag("--json", in->json, "Print one JSON object");
  take->callback([=, &work] { work = [=] { return run_import(*into, *in); }; });
}

}  // namespace scantling
