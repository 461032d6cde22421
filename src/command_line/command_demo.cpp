#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>

#include "base/paths.h"
#include "base/save_file.h"
#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/open_record.h"
#include "photo/photo.h"
#include "record/record_error.h"
#include "report/demo_job.h"
#include "report/overlay.h"
#include "report/report.h"
#include "report/scaled_photo.h"
#include "report/summary_json.h"
#include "report/wording.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

constexpr const char* kMadePictures =
    "The demo's photos are made pictures, rendered from known sizes; car and owner are invented.";

struct DemoOptions {
  std::string folder;
  bool json = false;
};

constexpr int kOverlaySide_px = 2400;

/// Where one run of the demo puts its files.
struct DemoFiles {
  fs::path folder;
  std::string stem;

  fs::path file(const std::string& ending) const { return folder / (stem + ending); }
};

/// An earlier run may hold what somebody has changed since: it is left as it is.
DemoFiles free_files(const fs::path& folder) {
  DemoFiles files{folder, "demo"};
  for (int i = 2; fs::exists(files.file(".sqlite")) || fs::exists(files.file(".pdf")); ++i)
    files.stem = fmt::format("demo-{}", i);
  return files;
}

std::string place_words(const Part& part) {
  return fmt::format("-{}-{}", part.side == Side::left ? "left" : "right",
                     part.kind == PartKind::disc     ? "disc"
                     : part.place == PadPlace::inner ? "inner"
                                                     : "outer");
}

std::vector<fs::path> write_overlays(const Record& record, const JobSummary& summary,
                                     const DemoFiles& files) {
  std::vector<fs::path> written;
  for (const PartSummary& part : summary.parts)
    for (const PhotoFinding& finding : part.photos) {
      if (!finding.newest) continue;
      const fs::path file = files.file(place_words(part.part) + ".png");
      const cv::Mat colour = load_colour(record.photo_path(finding.photo));
      const ScaledPhoto small = scaled_photo(colour, {{}, colour.size()}, kOverlaySide_px);
      save_file(file, overlay_png(small.rgb, colour.cols, finding.newest->measurement, {}));
      written.push_back(file);
    }
  return written;
}

struct Comparison {
  std::optional<double> true_mm;
  std::optional<double> error_mm;  ///< measured less true
};

Comparison compare(const PartSummary& part, const DemoPart& demo) {
  Comparison result;
  if (!demo.truth) return result;
  result.true_mm = demo.truth->friction_at(part.size ? part.size->at_mm : std::optional<double>());
  if (part.size) result.error_mm = part.size->quantity.value_mm - *result.true_mm;
  return result;
}

void print_table(const JobSummary& summary, const DemoJob& demo) {
  fmt::print("{} ({}), {}. {}\n\n", summary.vehicle.name, summary.vehicle.registration,
             axle_title(summary.job.axle), kMadePictures);
  fmt::print("{:<24}{:<18}{:>8}{:>8}{:>10}   {}\n", "friction material", "measured, 95 %", "true",
             "error", "minimum", "verdict");
  for (std::size_t i = 0; i < summary.parts.size(); ++i) {
    const PartSummary& part = summary.parts[i];
    const Comparison truth = compare(part, demo.parts[i]);
    fmt::print("{:<24}{:<18}{:>8}{:>8}{:>10}   {}\n", part_title(part.part, summary.job.axle),
               part.size ? size_with_95(part.size->quantity) : "no size",
               truth.true_mm ? fmt::format("{:.2f}", *truth.true_mm) : "",
               truth.error_mm ? fmt::format("{:+.2f}", *truth.error_mm) : "",
               part.part.minimum_mm ? minimum_number(*part.part.minimum_mm) : "none", part.state);
  }
  fmt::print("\n");
  for (const PartSummary& part : summary.parts) {
    fmt::print("{}:", part_title(part.part, summary.job.axle));
    for (const std::string& sentence : part.because) fmt::print(" {}", sentence);
    fmt::print("\n");
  }
  for (const std::string& note : summary.axle_notes) fmt::print("{}\n", note);
}

void print_json(const JobSummary& summary, const DemoJob& demo, const Record& record,
                const DemoFiles& files, const std::vector<fs::path>& overlays) {
  nlohmann::ordered_json json = summary_to_json(summary);
  for (std::size_t i = 0; i < summary.parts.size(); ++i) {
    const Comparison truth = compare(summary.parts[i], demo.parts[i]);
    nlohmann::ordered_json& part = json["parts"][i];
    part["true_mm"] = nullptr;
    part["error_mm"] = nullptr;
    if (truth.true_mm) part["true_mm"] = *truth.true_mm;
    if (truth.error_mm) part["error_mm"] = *truth.error_mm;
  }
  json["made_pictures"] = kMadePictures;
  json["record"] = record.path().string();
  json["report"] = files.file(".pdf").string();
  json["overlays"] = nlohmann::ordered_json::array();
  for (const fs::path& overlay : overlays) json["overlays"].push_back(overlay.string());
  fmt::print("{}\n", json.dump(1, ' ', false, nlohmann::json::error_handler_t::replace));
}

int show_demo(const DemoOptions& options) {
  const DemoJob demo = read_demo_job(demo_folder());
  const fs::path folder = fs::absolute(options.folder.empty() ? user_state_folder() / "demo"
                                                              : fs::path(options.folder));
  const DemoFiles files = free_files(folder);
  Record record(files.file(".sqlite"));  // makes the folder
  const JobSummary summary = summarise_job(record, enter_demo_job(record, demo)).value();
  make_report(record, summary, kA4).save_pdf(files.file(".pdf"));
  const std::vector<fs::path> overlays = write_overlays(record, summary, files);
  if (options.json) {
    print_json(summary, demo, record, files, overlays);
    return kDone;
  }
  print_table(summary, demo);
  fmt::print("\nReport    {}\nRecord    {}\n", files.file(".pdf").string(), record.path().string());
  for (const fs::path& overlay : overlays) fmt::print("Overlay   {}\n", overlay.string());
  fmt::print("To open it in the app: scantling --record '{}'\n", record.path().string());
  return kDone;
}

}  // namespace

void add_demo_command(CLI::App& app, Work& work) {
  const auto options = std::make_shared<DemoOptions>();
  CLI::App* command = app.add_subcommand(
      "demo",
      "Measures the demo job's made pictures afresh and sets each size beside the true one.\n"
      "Example: scantling demo --out /tmp/demo");
  command
      ->add_option("--out", options->folder,
                   "Folder for the demo's record, report and pictures; made when missing")
      ->type_name("DIR");
  command->add_flag("--json", options->json, "Print one JSON object");
  command->callback([options, &work] {
    work = [options] {
      try {
        return show_demo(*options);
      } catch (const DemoError& error) {
        return report_unusable("demo_missing", error.what(), options->json);
      } catch (const RecordError& error) {
        return report_unusable("record_unusable", error.what(), options->json);
      } catch (const UnwritableFile& error) {
        fmt::print(stderr, "scantling: {}\n", error.what());
        return static_cast<int>(kWrongUsage);
      }
    };
  });
}

}  // namespace scantling
