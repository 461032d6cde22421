#pragma once

#include <deque>
#include <filesystem>
#include <functional>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "app/camera_page.h"
#include "app/canvas.h"
#include "app/capture_guide.h"
#include "app/compare_page.h"
#include "app/file_chooser.h"
#include "app/file_dialog.h"
#include "app/forms.h"
#include "app/history_page.h"
#include "app/key_focus.h"
#include "app/measuring_log.h"
#include "app/photo_texture.h"
#include "app/picture_primer.h"
#include "app/picture_shelf.h"
#include "app/planes_page.h"
#include "app/run_app.h"
#include "app/session.h"
#include "app/settings.h"
#include "app/sorting_page.h"
#include "app/test_probe.h"
#include "app/window.h"
#include "app/work_page.h"
#include "app/worker.h"
#include "card/sheet_layout.h"
#include "sorting/folder_watch.h"
#include "uncertainty/size_chain.h"

namespace scantling {

/// The running app: the session, its worker threads and what the panels remember between frames.
/// Panels read it and call its actions; only actions change anything.
class App {
 public:
  App(const AppOptions& options, Window& window, Settings settings);
  ~App();

  void frame();  ///< one pass: results, keys, drops, panels, probe

  // Actions, for menus, keys and buttons alike.
  void new_job();
  void open_demo();
  void edit_job();
  void start_job(const Vehicle& vehicle, const Job& job);
  void open_job(std::int64_t job_id);
  void close_job();
  void ask_for_photos();
  void add_photos(const std::vector<std::filesystem::path>& photos);
  void ask_for_heap();  ///< photos to be sorted
  /// Photos and folders of them onto the sorting page, which is shown.
  void sort_photos(const std::vector<std::filesystem::path>& given);
  void show_sorting(bool shown);
  void clear_sorting();
  void file_sorted();      ///< into the open job, or into a new one
  void stop_batch();       ///< what is looked at or measured on all cores
  void go_on_measuring();  ///< after a stop or a fault
  /// Photos of the open job that wait to be measured and nothing is done about.
  std::size_t not_measured() const;
  void go_on_looking();
  void ask_for_watched_folder();
  void watch_folder(const std::filesystem::path& folder);  ///< empty: none any more
  /// The window was asked to close. True once all that must not be lost is safe: until then frames
  /// go on being drawn.
  bool finished();
  void write_sheet(Paper paper);
  void write_report();
  /// The selected part's size by Monte Carlo as well, on the worker.
  void draw_size();
  /// What it gave, as long as the size is the one that was drawn; null else.
  const ChainCheck* drawn_size() const;
  void write_web_report();
  void hand_on_job();        ///< as one file
  void write_sizes_table();  ///< all jobs' sizes as CSV
  void ask_for_job_file();
  void take_in(const std::filesystem::path& job_file);
  void take_in(const std::filesystem::path& job_file, std::shared_ptr<const JobImport> import,
               ImportChoice choice);
  void show_work(bool shown);  ///< the page on which the job is closed
  void take_work();            ///< saves what is typed there, or says why not
  void reopen_job();
  void write_refit_list();
  void next_job();  ///< asks for the next job of this axle
  void start_next_job(std::int64_t after_job_id, const Job& job);
  void undo();
  void redo();
  void confirm_selected_edge();
  void confirm_all_edges();
  /// Enter on the photo: confirms what is not confirmed yet; with nothing left, the next photo.
  void confirm_and_go_on();
  void show_photo_beside(int by);  ///< another photo of the part
  void show_next_to_confirm();     ///< the next photo with an edge that wants the user's eye
  void switch_theme();
  void show_history(bool shown);  ///< the page of the axle's jobs through time
  void follow_history();          ///< reads them again where the open job is another one now
  void open_from_history(std::int64_t job_id);
  void copy_result();  ///< the selected part's, as text, to the clipboard
  void ask_for_settings();
  void remember();  ///< the settings, into their file
  void ask_for_camera_photos();
  void add_camera_photos(const std::vector<std::filesystem::path>& photos);
  void remove_camera_photo(std::size_t index);
  void clear_camera_photos();
  void save_camera_profile();
  void show_planes(bool shown);  ///< the page of the selected part's sizes from planes
  void ask_for_planes_photos();
  void add_planes_photos(const std::vector<std::filesystem::path>& photos);
  void remove_planes_photo(std::int64_t photo_id);
  /// A part's photos for the planes as they are to be solved.
  PlanesTask planes_task(const PartSummary& part);
  void zoom_planes(double factor);
  /// How photos of a view are taken, in the photo's place; without a view: of what is wanted next.
  void show_guide(std::optional<View> view = std::nullopt);
  void close_guide();
  View guide_view() const;
  /// What a photo of this view that is added to the selected part shows.
  PhotoKind kind_to_add(View view) const;
  void show_compare(bool shown);  ///< another photo beside the one on the canvas
  /// Runs what may be refused, by the record mostly, and shows the reason if it is.
  void attempt(const std::function<void()>& action);
  void say(std::string sentence) { notice_ = std::move(sentence), written_.clear(); }
  /// Says that a file was written, and offers to open it or, where that makes sense for nobody,
  /// its folder alone.
  void say_written(std::string sentence, const std::filesystem::path& file, bool opens = true);
  void open_written();
  void show_written_folder();
  /// The file that the notice tells of; empty where it tells of none.
  const std::filesystem::path& written() const { return written_; }
  bool written_opens() const { return written_opens_; }
  void show_fault(const std::string& reason);

  Session& session() { return session_; }
  Settings& settings() { return settings_; }
  TestProbe& probe() { return probe_; }
  Window& window() { return window_; }
  Canvas& canvas() { return canvas_; }
  PhotoTexture& texture() { return texture_; }
  CameraPage& camera_page() { return camera_page_; }
  /// What photos are measured with: the user's profiles and the record's.
  const CameraShelf& cameras() const { return *cameras_; }
  PlanesPage& planes_page() { return planes_page_; }
  ComparePage& compare_page() { return compare_page_; }
  WorkPage& work_page() { return work_page_; }
  SortingPage& sorting_page() { return sorting_page_; }
  const PictureShelf& thumbnails() const { return thumbnails_; }
  const PictureShelf& preview() const { return preview_; }
  bool filing() const { return filing_ > 0; }
  /// Photos filed together that are being measured, and how many of them are done; 0 without any.
  std::pair<std::size_t, std::size_t> measuring() const { return {batch_done_, batch_total_}; }
  bool looking() const { return batch_.busy(); }
  /// The longest that a frame took since all cores were last set to work, in ms: for tests.
  double slowest_frame_ms() const { return slowest_frame_ms_; }
  /// Why the watched folder cannot be looked into; empty where it can.
  const std::string& watch_fault() const { return watch_fault_; }
  HistoryPage& history_page() { return history_page_; }
  Forms& forms() { return forms_; }
  FileChooser& chooser() { return chooser_; }
  KeyFocus& focus() { return focus_; }
  const std::string& person() const { return settings_.person; }
  bool busy() const {
    return worker_.busy() || batch_.busy() || keeper_.busy() || opener_.busy() || analyser_.busy();
  }
  /// The same without the planes of parts that nobody looks at, which are solved in between, and
  /// with what is about to be measured.
  bool busy_for_the_user() {
    return batch_.busy() || keeper_.busy() || opener_.busy() || analyser_.busy() ||
           worker_.waiting() > (planes_page_.open() ? 0 : planes_page_.running()) ||
           measuring_is_due();
  }
  bool asking() const { return dialogs_.busy(); }  ///< the desktop's file dialog is open
  std::string doing() const {
    for (const Worker* worker : {&keeper_, &analyser_, &opener_, &worker_})
      if (worker->busy()) return worker->doing();
    return batch_.doing();
  }
  bool ending() const { return ending_; }
  /// What the end still waits for; empty: nothing.
  std::string finishing() const;
  const std::string& notice() const { return notice_; }
  std::string& fault() { return fault_; }
  bool rivals_shown() const { return rivals_shown_; }
  void toggle_rivals() { rivals_shown_ = !rivals_shown_; }
  /// The axle's map in the photo's place.
  bool map_shown() const { return map_shown_; }
  bool guide_open() const { return guide_open_; }
  void show_map(bool shown);
  /// A narrow window shows one side panel at a time: the result, or what is entered.
  bool narrow() const { return narrow_; }
  bool result_in_front() const { return result_in_front_; }
  void switch_side() { result_in_front_ = !result_in_front_; }
  /// True once in the frame in which Esc was pressed for the dialog in front.
  bool take_escape() { return std::exchange(escape_, false); }
  /// The same for Enter, unless the keys stand on a control that shows it.
  bool take_enter() { return std::exchange(enter_, false); }
  /// How many lines the arrow keys have moved the dialog in front.
  int take_scroll() { return std::exchange(scroll_, 0); }
  /// The canvas, not a page or the map.
  bool photo_in_front() const;
  /// The name of what fills the window: "job", "start", "sorting", ...
  const char* screen() const;
  /// Whether what fills the window has commands of its own on Tab, the arrows and Enter. Elsewhere
  /// these go through the controls at once.
  bool page_listens() const;
  /// True once after the theme was switched.
  bool take_restyle() { return std::exchange(restyle_, false); }
  /// Why the selected photo's file cannot be shown, empty where it can.
  const std::string& photo_fault() const { return photo_fault_; }

 private:
  void open_first(const AppOptions& options);
  void show_touched_page();
  void follow_the_record();
  void take_keys();
  bool steer(const KeyCommand& command);
  void step_panel(int by);
  void settle_focus();
  void obey(const KeyCommand& command);
  void nudge(const KeyCommand& command);
  bool obey_on_camera(const KeyCommand& command);
  bool obey_on_map(const KeyCommand& command);
  const PhotoFinding* photo_on_screen();
  void fetch_photo();
  void solve_planes();
  void advance_planes(std::int64_t part_id, PlanesTask task);
  void keep_if_whole(std::int64_t part_id);
  std::vector<std::int64_t> planes_photo_ids();  ///< as listed
  bool obey_on_planes(const KeyCommand& command);
  void follow_guide();
  bool obey_on_guide(const KeyCommand& command);
  bool obey_on_guide_in_place(const KeyCommand& command);
  void fetch_compared();
  bool obey_on_compare(const KeyCommand& command);
  bool obey_on_work(const KeyCommand& command);
  bool obey_on_sorting(const KeyCommand& command);
  void take_dropped(std::vector<std::filesystem::path> dropped);
  void take_next_job_file();
  void take_to_sorting(const std::vector<std::filesystem::path>& photos);
  void look_at(const std::set<int>& rows);
  void heap_filed(const SortingPage::Outcome& outcome, const FiledHeap& heap, bool show);
  void sorted_away(const SortingPage::Outcome& outcome, bool show);
  void bring_filed_back();  ///< onto the sorting page, after an undo
  void take_filed_away();   ///< after a redo
  void fetch_thumbnails(const std::vector<SortingRow>& rows);
  void measure_in_hand();
  void measure_due();
  bool measuring_is_due();
  void begin_measuring(std::vector<DuePhoto> photos);
  bool any_on_its_way(const std::vector<DuePhoto>& photos) const;
  void keep_measured();
  /// Nothing is being typed, pressed or dragged.
  bool hands_free() const;
  void photo_copied(const PhotoEntry& photo);
  void show_copied();
  void copy_photo(const std::filesystem::path& photo, std::int64_t part, PhotoKind kind,
                  std::function<void(const PhotoEntry&)> then);
  void fetch_preview();
  void look_into_watched_folder();
  void take_arrived(const FolderWatch::Look& look);
  void dealt_with(const std::vector<SortingRow>& rows, bool done = true);
  bool obey_on_history(const KeyCommand& command);
  PageSize report_paper() const;
  void colours_ready(std::int64_t photo_id, PhotoColours colours);
  void ask(FileQuestion question,
           std::function<void(const std::vector<std::filesystem::path>&)> answer);
  void start_camera_task(const std::string& what, CameraPage::Task task);
  static const std::vector<std::string>& photo_patterns();
  void load_cameras();  ///< the user's camera profiles, and the record's
  void draw();
  void draw_job(const ScreenRect& area);
  void draw_canvas(const ScreenRect& area);

  Window& window_;
  Settings settings_;
  Session session_;
  TestProbe probe_;
  PicturePrimer primer_;
  PhotoTexture texture_;
  Canvas canvas_;
  Forms forms_;
  FileChooser chooser_;
  CameraPage camera_page_;
  PlanesPage planes_page_;
  WorkPage work_page_;
  SortingPage sorting_page_;
  PictureShelf thumbnails_;
  PictureShelf preview_;  ///< of the row in hand
  int preview_wanted_ = 0;
  std::size_t copying_ = 0, filing_ = 0;  ///< photos
  /// Rows that were filed, by the first photo that they became, for an undo to bring back.
  std::map<std::int64_t, std::vector<SortingRow>> filed_rows_;
  bool batch_was_busy_ = false;
  double slowest_frame_ms_ = 0;
  std::size_t batch_done_ = 0, batch_total_ = 0;
  MeasuringLog measuring_log_;
  std::vector<NewMeasurement> to_keep_;  ///< measured, not in the record yet
  bool keeping_ = false;
  std::deque<std::filesystem::path> job_files_;  ///< dropped, to be taken in
  std::shared_ptr<FolderWatch> watch_;           ///< touched by the watcher's tasks only
  double watched_at_s_ = -1e9;
  std::string watch_fault_;
  HistoryPage history_page_;
  ComparePage compare_page_;
  std::int64_t planes_job_ = 0;  ///< whose cases the page holds
  std::shared_ptr<const CameraShelf> cameras_;
  struct DrawnSize {
    std::int64_t part_id = 0;
    double size_mm = 0, u_mm = 0;  ///< the size that was drawn
    ChainCheck check;
  };
  std::string known_record_;  ///< whose recent jobs the settings hold
  std::optional<DrawnSize> drawn_size_;
  std::string notice_;
  std::filesystem::path written_;
  bool written_opens_ = true;
  std::string fault_;
  std::string photo_fault_;
  std::int64_t photo_fault_id_ = 0;
  bool rivals_shown_ = false;
  bool map_shown_ = false;
  bool guide_open_ = false;
  std::optional<View> guide_view_;  ///< as chosen
  std::int64_t guide_photo_ = 0;    ///< shown when it was opened, of this job
  std::int64_t guide_job_ = 0;
  bool narrow_ = false;
  bool result_in_front_ = false;
  bool escape_ = false, enter_ = false;
  int scroll_ = 0;
  KeyFocus focus_;
  std::string focus_screen_;  ///< on which the keys were given away
  bool restyle_ = false;
  bool ending_ = false;
  int last_frames_ = 0;  ///< to be drawn so that what is being typed is taken
  Settings kept_settings_;
  std::set<std::int64_t> fetching_colours_;
  std::set<std::int64_t> analysing_;  ///< by the analyser
  /// The photo in hand that was tried last, and with what: not again before something changes.
  std::optional<std::pair<std::int64_t, MeasureOptions>> attempted_;
  /// A photo copied while hands were not free, and what was shown then.
  struct Copied {
    PhotoEntry photo;
    std::int64_t shown_id = 0;
  };
  std::optional<Copied> copied_;
  // Last, so that they end first.
  Worker worker_;    ///< what the user waits for: reports, the demo, planes
  Worker keeper_;    ///< what must not be lost: photos on their way in, what was measured
  Worker opener_;    ///< pictures for the screen
  Worker analyser_;  ///< the photo in hand
  Worker batch_;     ///< on all cores
  Worker dialogs_;
  Worker watcher_;
  Worker launcher_;  ///< programs of the desktop that open a file
};

}  // namespace scantling
