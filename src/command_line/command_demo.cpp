#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>

#include "base/paths.h"
#include "base/save_file.h"
#include "camera/camera_profile_file.h"
#include "camera/camera_shelf.h"
#include "command_line/commands.h"
#include "command_line/demo_sizes.h"
#include "command_line/exit_status.h"
#include "command_line/open_record.h"
#include "command_line/profile_json.h"
#include "photo/photo.h"
#include "planes/planes_json.h"
#include "record/record_error.h"
#include "record/words.h"
#include "report/demo_job.h"
#include "report/html_report.h"
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

constexpr const char* kWithProfile =
    "The phone's lens is known from the demo's photos of the ground sheet.";
constexpr const char* kWithoutProfile =
    "The phone's lens is reckoned from each photo: there is no camera profile.";
constexpr const char* kAsProposed =
    "* as the program proposes it: an edge wants a look before it counts.";

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
  return fmt::format("-{}-{}", side_word(part.side),
                     part.kind == PartKind::disc ? "disc" : place_word(part.place));
}

/// "-left-inner", "-left-disc-rim", "-left-disc-lip-outboard-2"
std::string photo_words(const PartSummary& part, const PhotoFinding& finding) {
  std::string words = place_words(part.part);
  if (part.part.kind == PartKind::disc) words += fmt::format("-{}", view_word(finding.photo.view));
  if (finding.photo.face) words += fmt::format("-{}", face_word(*finding.photo.face));
  int alike = 0, number = 0;
  for (const PhotoFinding& other : part.photos) {
    if (other.photo.view != finding.photo.view || other.photo.face != finding.photo.face) continue;
    ++alike;
    if (other.photo.id <= finding.photo.id) ++number;
  }
  return alike > 1 ? fmt::format("{}-{}", words, number) : words;
}

std::vector<fs::path> write_overlays(const Record& record, const JobSummary& summary,
                                     const DemoFiles& files) {
  std::vector<fs::path> written;
  for (const PartSummary& part : summary.parts)
    for (const PhotoFinding& finding : part.photos) {
      if (!finding.newest || from_planes(finding.photo.view)) continue;
      const fs::path file = files.file(photo_words(part, finding) + ".png");
      const cv::Mat colour = load_colour(record.photo_path(finding.photo));
      const ScaledPhoto small = scaled_photo(colour, {{}, colour.size()}, kOverlaySide_px);
      save_file(file, overlay_png(small.rgb, colour.cols, finding.newest->measurement, {}));
      written.push_back(file);
    }
  return written;
}

/// What one part of the demo came to.
struct Shown {
  std::vector<PlanesResult> planes;
  std::vector<DemoSize> sizes;

  const DemoSize& judged() const {
    return *std::find_if(sizes.begin(), sizes.end(), [](const DemoSize& s) { return s.judged; });
  }
};

std::string title_of(const DemoSize& size) {
  return "  " + size.title + (size.planes ? ", from planes" : "");
}

/// One row; nothing that a rim over its lips could pass for the worn thickness.
void print_row(const DemoSize& size, const PartSummary& part) {
  const auto inside = size.inside_95();
  fmt::print(
      "{:<40}{:<19}{:>7}{:>8}   {:<8}", title_of(size),
      size.measured ? size_with_95(*size.measured) + (size.to_confirm ? " *" : "  ") : "no size",
      size.true_mm ? fmt::format("{:.2f}", *size.true_mm) : "",
      size.error_mm() ? fmt::format("{:+.2f}", *size.error_mm()) : "",
      inside ? (*inside ? "inside" : "outside") : "");
  if (size.judged)
    fmt::print("{:<10}{}", part.part.minimum_mm ? minimum_number(*part.part.minimum_mm) : "none",
               part.state);
  fmt::print("\n");
}

/// The profile that the demo's own photos came to; null where they gave none.
const CameraProfile* profile_of(const CameraShelf* cameras) {
  return cameras && !cameras->profiles.empty() ? &cameras->profiles.front() : nullptr;
}

/// The profile's figures with their 95 %, each with the true one behind it.
std::string lens_words(const CameraProfile* profile, const std::optional<CameraModel>& truth) {
  if (!profile) return kWithoutProfile;
  if (!truth) return kWithProfile;
  const auto u95 = (1.96 * profile->standard_deviations()).eval();
  const CameraModel& m = profile->model;
  return fmt::format(
      "The phone's lens is known from {} photos of the ground sheet: focal length "
      "{:.1f}\u00A0±\u00A0{:.1f} px (true {:.1f}), centre {:.1f}\u00A0±\u00A0{:.1f} and "
      "{:.1f}\u00A0±\u00A0{:.1f} px (true {:.1f} and {:.1f}), k1 {:.4f}\u00A0±\u00A0{:.4f} "
      "(true {:.4f}), k2 {:.4f}\u00A0±\u00A0{:.4f} (true {:.4f}).",
      profile->photos, m.focal_px, u95[0], truth->focal_px, m.centre_x_px, u95[1], m.centre_y_px,
      u95[2], truth->centre_x_px, truth->centre_y_px, m.k1, u95[3], truth->k1, m.k2, u95[4],
      truth->k2);
}

void print_table(const JobSummary& summary, const std::vector<Shown>& shown,
                 const std::string& lens) {
  fmt::print("{} ({}), {}. {}\n", summary.vehicle.name, summary.vehicle.registration,
             axle_title(summary.job.axle), kMadePictures);
  fmt::print("{}\n\n", lens);
  fmt::print("{:<40}{:<19}{:>7}{:>8}   {:<8}{:<10}{}\n", "", "measured, 95 %", "true", "error",
             "true is", "minimum", "verdict");
  bool any_open = false;
  for (std::size_t i = 0; i < summary.parts.size(); ++i) {
    const PartSummary& part = summary.parts[i];
    fmt::print("{}\n", part_title(part.part, summary.job.axle));
    for (const DemoSize& size : shown[i].sizes) {
      print_row(size, part);
      any_open = any_open || (size.to_confirm && size.measured);
    }
  }
  if (any_open) fmt::print("{}\n", kAsProposed);
  fmt::print("\n");
  for (std::size_t i = 0; i < summary.parts.size(); ++i) {
    const PartSummary& part = summary.parts[i];
    fmt::print("{}:", part_title(part.part, summary.job.axle));
    for (const std::string& sentence : part.because) fmt::print(" {}", sentence);
    for (const Check& caution : part.cautions) fmt::print(" Mind: {}", caution.message);
    for (const PlanesResult& planes : shown[i].planes)
      for (const Check& check : planes.checks)
        if (check.severity != Severity::info) fmt::print(" From planes: {}", check.message);
    fmt::print("\n");
  }
  for (const std::string& note : summary.axle.notes) fmt::print("{}\n", note);
}

using Json = nlohmann::ordered_json;

template <class T>
Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json size_json(const DemoSize& size) {
  return {{"dimension", size.dimension},
          {"from", size.planes ? "planes" : "edges"},
          {"judged", size.judged},
          {"to_confirm", size.to_confirm},
          {"value_mm", size.measured ? Json(size.measured->value_mm) : Json(nullptr)},
          {"expanded_95_mm", size.measured ? Json(size.measured->expanded_95_mm()) : Json(nullptr)},
          {"true_mm", or_null(size.true_mm)},
          {"error_mm", or_null(size.error_mm())},
          {"inside_95", or_null(size.inside_95())}};
}

Json lens_json(const CameraProfile* profile, const std::optional<CameraModel>& truth) {
  if (!profile) return nullptr;
  Json json = profile_json(*profile);
  json["photos"] = profile->photos;
  if (truth)
    json["true"] = {{"focal_px", truth->focal_px},
                    {"centre_px", {truth->centre_x_px, truth->centre_y_px}},
                    {"k1", truth->k1},
                    {"k2", truth->k2}};
  return json;
}

void print_json(const JobSummary& summary, const std::vector<Shown>& shown, const Json& lens,
                const Record& record, const DemoFiles& files,
                const std::vector<fs::path>& overlays) {
  Json json = summary_to_json(summary);
  for (std::size_t i = 0; i < summary.parts.size(); ++i) {
    Json& part = json["parts"][i];
    const DemoSize& judged = shown[i].judged();
    part["true_mm"] = or_null(judged.true_mm);
    part["error_mm"] = or_null(judged.error_mm());
    part["sizes"] = Json::array();
    for (const DemoSize& size : shown[i].sizes) part["sizes"].push_back(size_json(size));
    part["planes"] = Json::array();
    for (const PlanesResult& planes : shown[i].planes)
      part["planes"].push_back(planes_to_json(planes));
  }
  json["made_pictures"] = kMadePictures;
  json["camera_profile"] = lens;
  json["record"] = record.path().string();
  json["report"] = files.file(".pdf").string();
  json["report_html"] = files.file(".html").string();
  json["overlays"] = Json::array();
  for (const fs::path& overlay : overlays) json["overlays"].push_back(overlay.string());
  fmt::print("{}\n", json.dump(1, ' ', false, Json::error_handler_t::replace));
}

int show_demo(const DemoOptions& options) {
  const DemoJob demo = read_demo_job(demo_folder());
  const fs::path folder = fs::absolute(options.folder.empty() ? user_state_folder() / "demo"
                                                              : fs::path(options.folder));
  const DemoFiles files = free_files(folder);
  Record record(files.file(".sqlite"));  // makes the folder
  const std::shared_ptr<const CameraShelf> cameras = demo_cameras(demo);
  const std::int64_t job = enter_demo_job(record, demo, cameras);
  std::vector<Shown> shown;
  const JobSummary unsolved = summarise_job(record, job).value();
  for (const PartSummary& part : unsolved.parts)
    shown.push_back({solve_demo_planes(record, part, demo, cameras), {}});
  const JobSummary summary = summarise_job(record, job).value();
  for (std::size_t i = 0; i < summary.parts.size(); ++i)
    shown[i].sizes = demo_sizes(summary.parts[i], demo.parts[i].truth, shown[i].planes);
  make_report(record, summary, kA4).save_pdf(files.file(".pdf"));
  save_file(files.file(".html"), html_report(record, summary));
  const std::vector<fs::path> overlays = write_overlays(record, summary, files);
  const CameraProfile* profile = profile_of(cameras.get());
  if (profile) save_file(files.file("-camera.json"), profile_to_text(*profile));
  if (options.json) {
    print_json(summary, shown, lens_json(profile, demo.true_camera), record, files, overlays);
    return kDone;
  }
  print_table(summary, shown, lens_words(profile, demo.true_camera));
  fmt::print("\nReport    {}\n          {}\nRecord    {}\n", files.file(".pdf").string(),
             files.file(".html").string(), record.path().string());
  if (profile) fmt::print("Camera    {}\n", files.file("-camera.json").string());
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
