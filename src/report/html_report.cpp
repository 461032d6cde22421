#include "report/html_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "base/version.h"
#include "photo/photo.h"
#include "print/document.h"
#include "report/planes_beside.h"
#include "report/refit_list.h"
#include "report/report_words.h"
#include "report/scaled_photo.h"
#include "report/section_drawing.h"
#include "report/wear_plot.h"
#include "report/wording.h"
#include "verdict/cautions.h"
#include "verdict/size_text.h"

namespace scantling {

namespace {

constexpr int kPhotoSide_px = 1280;
constexpr int kInRowSide_px = 640;  ///< of photos that stand side by side
constexpr PageSize kSection{92, 21};

constexpr const char* kStyle = R"css(
*{box-sizing:border-box}
body{font:16px/1.45 Inter,"DejaVu Sans",sans-serif;max-width:64rem;margin:1.5rem auto;padding:0 1rem;color:#000;background:#fff}
h1{font-size:1.6rem;margin:0}h2{font-size:1.25rem;margin:2.2rem 0 .4rem;padding-bottom:.15rem;border-bottom:2px solid #000}h3{font-size:1rem;margin:1.2rem 0 .2rem}
p{margin:.35rem 0}.head{border-bottom:3px solid #000;padding-bottom:.5rem;margin-bottom:.6rem}
.count{font-size:1.1rem;font-weight:600}.label{font-size:.8rem;color:#444}.small{font-size:.85rem}
.part{display:grid;grid-template-columns:13rem 1fr 17rem;gap:.3rem 1.2rem;padding:.7rem 0;border-top:1px solid #999;break-inside:avoid}
.part>.because{grid-column:1/-1;font-size:.85rem;color:#222}.part img{width:100%;max-width:26rem}
.size{font-size:1.2rem;font-weight:600;white-space:nowrap}
.scroll{overflow-x:auto}table{border-collapse:collapse;margin:.3rem 0;font-size:.95rem}
th,td{text-align:left;padding:.15rem 1rem .15rem 0;vertical-align:top}th{font-weight:600;font-size:.8rem;color:#444}
tr+tr td{border-top:1px solid #ccc}td.n{font-variant-numeric:tabular-nums;white-space:nowrap}
.state{font-weight:700}.mark{display:inline-block;width:.9em;height:.9em;border:1.5px solid #000;margin-right:.45em;vertical-align:-.1em}
.bar{display:inline-block;height:.55em;background:#555}figure{margin:.6rem 0;break-inside:avoid}figure svg{width:100%;height:auto;display:block}
.row{display:grid;grid-template-columns:repeat(auto-fill,minmax(13rem,1fr));gap:.8rem}.row figure{margin:0}
dl{display:grid;grid-template-columns:9rem 1fr;gap:0 .8rem;font-size:.85rem;margin:.3rem 0}dt{color:#444}dd{margin:0;overflow-wrap:anywhere}
.beyond{display:grid;grid-template-columns:1fr 1fr;gap:0 2rem;border-top:1px solid #999;margin-top:1rem}.beyond h2{border:0;margin-top:1rem}
ul{padding-left:1.1rem;margin:.3rem 0}li{margin:.15rem 0}.refit li{margin:.5rem 0}
@media screen and (max-width:52rem){.part,.beyond{grid-template-columns:1fr}.part>.because{grid-column:auto}dl{grid-template-columns:1fr}dd{margin-bottom:.3rem}}
@media print{.scroll{overflow:visible}.scroll table{font-size:.8rem}body{font-size:10pt;margin:0;max-width:none;padding:0}h2.page{break-before:page}.part{grid-template-columns:10rem 1fr 13rem}.beyond{grid-template-columns:1fr 1fr}figure.alone svg{max-height:110mm}tr{break-inside:avoid}h3{break-after:avoid}.mark,.bar{print-color-adjust:exact;-webkit-print-color-adjust:exact}}
)css";

/// The page as it grows.
struct Html {
  FigureStyle style;
  std::string out;

  /// Escaped, with its figures in the page's style.
  std::string text(std::string_view plain) const { return html_text(in_style(plain, style)); }
  void line(std::string_view tag, std::string_view plain, std::string_view kind = {}) {
    out +=
        fmt::format("<{0}{1}>{2}</{0}>\n", tag,
                    kind.empty() ? std::string() : fmt::format(" class=\"{}\"", kind), text(plain));
  }
  void open_table(const std::vector<std::string>& heads) {
    out += "<div class=\"scroll\"><table>\n";
    if (heads.empty()) return;
    out += "<tr>";
    for (const std::string& head : heads) out += "<th>" + text(head) + "</th>";
    out += "</tr>\n";
  }
  void row(const std::vector<std::string>& cells) {
    out += "<tr>";
    for (const std::string& cell : cells) out += "<td class=\"n\">" + text(cell) + "</td>";
    out += "</tr>\n";
  }
  void close_table() { out += "</table></div>\n"; }
};

std::string base64(std::string_view bytes) {
  constexpr std::string_view kLetters =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    unsigned value = 0;
    for (std::size_t k = 0; k < 3; ++k)
      value = value << 8 | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0u);
    for (std::size_t k = 0; k < 4; ++k)
      text += i + k > bytes.size() ? '=' : kLetters[value >> (18 - 6 * k) & 63];
  }
  return text;
}

/// The report's looks by state: a colour (Okabe and Ito) and a border of its
/// own, beside the word.
const char* mark_style(const PartSummary& part) {
  if (!part.verdict) return "background:#fff;border-style:dotted";
  switch (part.verdict->state) {
    case VerdictState::keep:
      return "background:#0072b2";
    case VerdictState::keep_due_soon:
      return "background:#56b4e9;border-style:dashed";
    case VerdictState::replace:
      return "background:#d55e00;border-width:3px";
    case VerdictState::gauge_it:
      break;
  }
  return "background:#f0e442;border-style:double;border-width:4px";
}

void state_line(Html& html, const PartSummary& part) {
  html.out += fmt::format("<p class=\"state\"><span class=\"mark\" style=\"{}\"></span>{}</p>\n",
                          mark_style(part), html_text(part.state));
}

// The sections are the printed report's own.
void section_picture(Html& html, const PartSummary& part, const SectionLayout& layout) {
  Document drawing({"section", "", "", "2026-01-01T00:00:00Z"});
  draw_section(drawing.add_page(kSection), {0, 0, kSection.width_mm, kSection.height_mm},
               section_of(part), layout);
  html.out += fmt::format(
      "<div><img alt=\"section, to scale\" src=\"data:image/svg+xml;base64,{}\"></div>\n",
      base64(drawing.svg(0)));
}

void front_part(Html& html, const PartSummary& part, Axle axle, const SectionLayout& layout) {
  html.out += "<div class=\"part\"><div>";
  html.line("p", part_title(part.part, axle));
  state_line(html, part);
  html.out += "</div>";
  section_picture(html, part, layout);
  html.out += "<div>";
  if (part.size) {
    html.line("p", size_with_95(part.size->quantity), "size");
    html.line("p", dimension_title(part.size->dimension) + ", 95 % interval", "label");
  } else {
    html.line("p", "no size", "size");
  }
  html.line("p", minimum_words(part.part), "small");
  for (const std::string& more : {left_words(part), readings_words(part.readings)})
    if (!more.empty()) html.line("p", more, "small");
  if (part.verdict && part.verdict->probability_below)
    html.line("p", "Chance that it is below: " + chance_text(*part.verdict->probability_below),
              "small");
  html.out += "</div><div class=\"because\">";
  for (const std::string& sentence : because_words(part)) html.out += html.text(sentence) + " ";
  html.out += "</div></div>\n";
}

void front(Html& html, const JobSummary& summary) {
  html.line("p", count_of_states(summary), "count");
  std::map<PartKind, std::vector<PartSection>> sections;
  for (const PartSummary& part : summary.parts)
    sections[part.part.kind].push_back(section_of(part));
  std::map<PartKind, SectionLayout> layouts;
  for (const auto& [kind, list] : sections)
    layouts[kind] = layout_of(list, kSection.width_mm, html.style);
  if (!summary.parts.empty())
    html.line(
        "p", section_words({}, layouts.count(PartKind::pad) > 0, layouts.count(PartKind::disc) > 0),
        "label");
  for (const PartSummary& part : summary.parts)
    front_part(html, part, summary.job.axle, layouts[part.part.kind]);
  if (!summary.axle.notes.empty()) {
    html.line("h3", "The parts together");
    for (const std::string& note : summary.axle.notes) html.line("p", note);
  }
  if (!summary.job.note.empty()) {
    html.line("h3", "Note");
    html.out += "<p>" + html_text(summary.job.note) + "</p>\n";
  }
  if (const std::string next = next_check_words(summary.job); !next.empty())
    html.line("p", next, "small");
  html.line("p", sheet_words(summary.sheet), "small");
}

void cautions(Html& html) {
  html.out += "<div class=\"beyond\"><div>";
  html.line("h2", "What this does not tell");
  html.line("p", beyond_thickness());
  html.line("p", triage_words());
  html.out += "</div><div>";
  html.line("h2", "While you work");
  html.out += "<ul class=\"small\">\n";
  for (const Caution& caution : work_cautions())
    html.line("li", fmt::format("{} ({})", caution.text, caution.basis));
  html.out += "</ul></div></div>\n";
}

void edge_lines(std::string& out, const PhotoFinding& finding, double width) {
  if (!finding.newest) return;
  for (const MeasuredEdge& edge : finding.newest->measurement.edges) {
    std::string points;
    for (const Point_px& p : edge.points_px) points += fmt::format("{:.1f},{:.1f} ", p.x, p.y);
    for (const auto& [colour, stroke] :
         {std::pair{"#16181c", 2.2 * width}, std::pair{"#f0e442", width}})
      out += fmt::format(
          "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{:.2f}\">"
          "<title>{}</title></polyline>\n",
          points, colour, stroke, html_text(edge_title(edge.name)));
  }
}

/// `alone`: large and with its edges; else one of several side by side.
void photo_figure(Html& html, const Record& record, const PhotoFinding& finding, bool alone) {
  const cv::Mat rgb = load_colour(record.photo_path(finding.photo));
  if (rgb.empty()) {
    html.out += "<p>" +
                html_text("The photo " + finding.photo.original_name +
                          " cannot be shown: its file is missing or unreadable.") +
                "</p>\n";
    return;
  }
  const ScaledPhoto photo =
      scaled_photo(rgb, {{}, rgb.size()}, alone ? kPhotoSide_px : kInRowSide_px);
  html.out += fmt::format(
      "<figure{3}><svg viewBox=\"0 0 {0} {1}\" role=\"img\" aria-label=\"{4}\">"
      "<image width=\"{0}\" height=\"{1}\" href=\"data:image/jpeg;base64,{2}\"/>\n",
      rgb.cols, rgb.rows, base64(photo.jpeg), alone ? " class=\"alone\"" : "",
      alone ? "photo with its edges" : "photo");
  if (alone) edge_lines(html.out, finding, rgb.cols / 700.0);
  html.out += "</svg>";
  if (!alone)
    html.out +=
        "<figcaption class=\"small\">" + html_text(finding.photo.original_name) + "</figcaption>";
  html.out += "</figure>\n";
}

void facts(Html& html, const PhotoFinding& finding) {
  html.out += "<dl>";
  for (const auto& [name, text] : photo_facts(finding))
    html.out += fmt::format("<dt>{}</dt><dd>{}</dd>", html_text(name), html.text(text));
  html.out += "</dl>\n";
}

void checks(Html& html, const Measurement& measurement) {
  html.line("h3", "Checks");
  if (measurement.checks.empty()) html.line("p", "Nothing to remark.");
  for (const Check& check : measurement.checks) html.line("p", check_words(check));
}

void sizes(Html& html, const PhotoFinding& finding) {
  const SizeTable table = size_table(finding);
  if (table.rows.empty()) return;
  html.line("h3", "Sizes");
  std::vector<std::string> heads{"", "size, 95 % interval", "confidence"};
  for (const double place : table.places_mm) heads.push_back(fmt::format("at {:.0f} mm", place));
  html.open_table(heads);
  for (const SizeTable::Row& row : table.rows) {
    std::vector<std::string> cells{row.title, row.size, row.confidence};
    cells.insert(cells.end(), row.at_places.begin(), row.at_places.end());
    html.row(cells);
  }
  html.close_table();
}

void edges(Html& html, const PhotoFinding& finding) {
  const Measurement& measurement = finding.newest->measurement;
  if (measurement.edges.empty()) return;
  html.line("h3", "Edges");
  html.open_table({"", "where from", "confidence", "scatter", "confirmed by"});
  for (const MeasuredEdge& edge : measurement.edges)
    html.row({edge_title(edge.name),
              edge.origin == EdgeOrigin::moved ? "moved by hand" : "found by the program",
              fmt::format("{:.0f} %", 100 * edge.confidence),
              fmt::format("{:.2f} px", edge.residual_px), who_agreed(finding, edge)});
  html.close_table();
}

void budget(Html& html, const Dimension& dimension, const std::string& name) {
  if (dimension.quantity.budget.empty()) return;
  html.line("h3", fmt::format("Where the uncertainty of the {} comes from", name));
  const std::vector<BudgetLine> lines = lines_to_show(dimension.quantity);
  double largest = 0;
  for (const BudgetLine& line : lines) largest = std::max(largest, line.standard_uncertainty_mm);
  html.out += "<div class=\"scroll\"><table>\n";
  for (const BudgetLine& line : lines)
    html.out += fmt::format(
        "<tr><td>{}</td><td class=\"n\">{}</td><td><span class=\"bar\" "
        "style=\"width:{:.1f}em\"></span></td><td class=\"small\">{}</td></tr>\n",
        html.text(line.source), html.text(fmt::format("{:.3f} mm", line.standard_uncertainty_mm)),
        largest > 0 ? std::max(0.1, 7 * line.standard_uncertainty_mm / largest) : 0.0,
        html.text(line.advice));
  html.close_table();
  html.line("p", budget_foot(dimension.quantity), "label");
}

void worn_table(Html& html, const PartSummary& part, bool planes_too) {
  if (!part.worn) return;
  html.line("h3", planes_too ? "How the worn thickness comes about from edges"
                             : "How the worn thickness comes about");
  html.open_table({});
  for (const WornRow& row : worn_rows(*part.worn))
    html.out += fmt::format("<tr><td>{0}{2}{1}</td><td class=\"n\">{0}{3}{1}</td></tr>\n",
                            row.result ? "<b>" : "", row.result ? "</b>" : "", html.text(row.words),
                            html.text(row.size));
  html.close_table();
  html.line("p", not_over_the_lips(), "label");
  if (part.worn->worn) budget(html, *part.worn->worn, "worn thickness");
}

void measured(Html& html, const PhotoFinding& finding) {
  if (!finding.newest) return html.line("p", "This photo has not been measured yet.");
  const Measurement& measurement = finding.newest->measurement;
  checks(html, measurement);
  sizes(html, finding);
  edges(html, finding);
  if (finding.size)
    if (const Dimension* d = measurement.dimension(finding.size->dimension))
      budget(html, *d, dimension_title(d->name));
}

/// What all photos of a set say together is kept with each of them.
void planes(Html& html, const Record& record, const std::vector<const PhotoFinding*>& set) {
  if (set.empty()) return;
  html.line("h3", "Photos for the size from planes");
  html.out += "<div class=\"row\">";
  for (const PhotoFinding* finding : set) photo_figure(html, record, *finding, false);
  html.out += "</div>\n";
  if (!solved_together(set))
    return html.line("p", "These photos have not been solved together yet.");
  const PhotoFinding& newest = *set.back();
  const Measurement& measurement = newest.newest->measurement;
  checks(html, measurement);
  if (measurement.dimensions.empty()) return;
  sizes(html, newest);
  const Dimension& size = measurement.dimensions.front();
  budget(html, size, dimension_title(size.name) + " from planes");
}

void readings(Html& html, const PartSummary& part) {
  if (part.readings.empty()) return;
  html.line("h3", "Readings by hand");
  html.open_table({"as typed", "reading, 95 % interval", "instrument", "when"});
  for (const HandReadingEntry& r : part.readings)
    html.out += fmt::format(
        "<tr><td>{}</td><td class=\"n\">{}</td><td>{}</td><td>{}</td></tr>\n",
        html_text(r.as_typed),
        html.text(
            size_with_95({r.value_mm, r.standard_uncertainty_mm, kUnlimitedDegreesOfFreedom, {}})),
        html_text(r.instrument), html_text(time_title(r.read_at)));
  html.close_table();
}

void wear_drawing(Html& html, const PartSummary& part) {
  std::string& out = html.out;
  const auto plot = wear_plot(part);
  if (!plot) return;
  html.line("h3", "Wear so far and to come");
  for (const std::string& sentence : wear_sentences(part)) html.line("p", sentence);
  const auto x = [&](double km) {
    return 60 + 720 * (km - plot->first_km) / (plot->last_km - plot->first_km);
  };
  const auto y = [&](double mm) {
    return 250 - 230 * (mm - plot->low_mm) / (plot->high_mm - plot->low_mm);
  };
  std::string band, middle;
  for (const ForetoldSize& f : plot->curve) {
    band += fmt::format("{:.1f},{:.1f} ", x(f.odometer_km), y(f.interval_95.high));
    middle += fmt::format("{:.1f},{:.1f} ", x(f.odometer_km), y(f.size_mm));
  }
  for (auto f = plot->curve.rbegin(); f != plot->curve.rend(); ++f)
    band += fmt::format("{:.1f},{:.1f} ", x(f->odometer_km), y(f->interval_95.low));
  out +=
      "<svg viewBox=\"0 0 800 300\" role=\"img\" aria-label=\"size against "
      "odometer reading\" "
      "font-size=\"12\"><clipPath id=\"plot\"><rect x=\"60\" y=\"20\" "
      "width=\"720\" "
      "height=\"230\"/></clipPath>\n<g clip-path=\"url(#plot)\">";
  out += fmt::format("<polygon points=\"{}\" fill=\"#d6e8f7\"/>", band);
  out += fmt::format(
      "<polyline points=\"{}\" fill=\"none\" stroke=\"#0072b2\" "
      "stroke-width=\"2\"/>",
      middle);
  out += fmt::format(
      "<line x1=\"60\" x2=\"780\" y1=\"{0:.1f}\" y2=\"{0:.1f}\" "
      "stroke=\"#d55e00\" "
      "stroke-width=\"3\" stroke-dasharray=\"10 5\"/></g>\n",
      y(*plot->minimum_mm));
  out += fmt::format("<text x=\"66\" y=\"{:.1f}\">minimum {}</text>", y(*plot->minimum_mm) + 14,
                     html.text(minimum_number(*plot->minimum_mm)));
  for (const auto& [mm, label] : plot->size_marks(html.style))
    out +=
        fmt::format("<text x=\"54\" y=\"{:.1f}\" text-anchor=\"end\">{}</text>", y(mm) + 4, label);
  for (const auto& [km, label] : plot->distance_marks(html.style))
    out +=
        fmt::format("<text x=\"{:.1f}\" y=\"266\" text-anchor=\"middle\">{}</text>", x(km), label);
  out += fmt::format(
      "<text x=\"780\" y=\"284\" text-anchor=\"end\">1 000 {} on the odometer</text>"
      "<text x=\"54\" y=\"14\" text-anchor=\"end\">{}</text>",
      distance_word(html.style.distance), unit_word(html.style.length));
  const auto upright = [&](double km, const char* word) {
    out += fmt::format(
        "<line x1=\"{0:.1f}\" x2=\"{0:.1f}\" y1=\"20\" "
        "y2=\"250\" stroke=\"#000\" "
        "stroke-dasharray=\"4 4\"/><text x=\"{1:.1f}\" y=\"32\" "
        "text-anchor=\"end\">{2}</text>",
        x(km), x(km) - 3, word);
  };
  upright(plot->now_km, "now");
  if (plot->next_check_km && *plot->next_check_km <= plot->last_km)
    upright(*plot->next_check_km, "next check");
  for (const WearPlot::Point& p : plot->points)
    out += fmt::format(
        "<line x1=\"{0:.1f}\" x2=\"{0:.1f}\" y1=\"{1:.1f}\" "
        "y2=\"{2:.1f}\" stroke=\"#000\" "
        "stroke-width=\"2\"/><circle cx=\"{0:.1f}\" "
        "cy=\"{3:.1f}\" r=\"4\"><title>{4}: {5}"
        "</title></circle>\n",
        x(p.km), y(p.mm - p.half_95_mm), y(p.mm + p.half_95_mm), y(p.mm), html_text(p.label),
        html.text(fmt::format("{:.2f} mm", p.mm)));
  out +=
      "<rect x=\"60\" y=\"20\" width=\"720\" height=\"230\" fill=\"none\" "
      "stroke=\"#666\"/></svg>\n";
}

void part_section(Html& html, const Record& record, const JobSummary& summary,
                  const PartSummary& part) {
  html.line("h2", part_title(part.part, summary.job.axle), "page");
  state_line(html, part);
  for (const std::string& sentence : because_words(part)) html.line("p", sentence);
  const auto& [entries, by_edges, by_planes] = photo_sets(part);
  if (const std::vector<std::string> words = improvement_words(part); !words.empty()) {
    html.line("h3", kImprovementsTitle);
    for (const std::string& sentence : words) html.line("p", sentence);
  }
  worn_table(html, part, !by_planes.empty());
  for (const PhotoFinding* finding : by_edges) {
    html.line("h3", photo_title(finding->photo, entries));
    photo_figure(html, record, *finding, true);
    facts(html, *finding);
    measured(html, *finding);
  }
  planes(html, record, by_planes);
  readings(html, part);
  wear_drawing(html, part);
}

void refit_list(Html& html, const JobSummary& summary) {
  if (!summary.work) return;
  html.line("h2", "Refit list", "page");
  html.out += "<ol class=\"refit\">\n";
  // The maker's figures and what the user wrote stay as they are.
  for (const RefitStep& step : refit_steps(summary)) {
    html.out += "<li>" + html.text(step.text);
    for (const std::string& caution : step.cautions)
      html.out += "<br><span class=\"small\">Mind: " + html_text(caution) + "</span>";
    html.out += "</li>\n";
  }
  html.out += "</ol>\n";
}

}  // namespace

std::string html_text(std::string_view plain) {
  std::string text;
  for (const char c : plain) {
    switch (c) {
      case '&':
        text += "&amp;";
        break;
      case '<':
        text += "&lt;";
        break;
      case '>':
        text += "&gt;";
        break;
      case '"':
        text += "&quot;";
        break;
      default:
        text += c;
    }
  }
  return text;
}

std::string html_report(const Record& record, const JobSummary& summary, const FigureStyle& style) {
  const Vehicle& v = summary.vehicle;
  Html html{style, "<!DOCTYPE html>\n<html lang=\"en-GB\"><head><meta charset=\"utf-8\">\n"};
  html.out += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
  html.out += "<title>" + html_text(report_title(v)) + "</title>\n";
  html.out += fmt::format("<style>{}</style></head><body>\n<div class=\"head\">", kStyle);
  html.out += "<h1>" + html_text(report_title(v)) + "</h1>\n";
  std::string facts =
      fmt::format("{}, {}", date_title(summary.job.date), axle_title(summary.job.axle));
  if (summary.job.odometer_km)
    facts += ", " + in_style(distance_title(*summary.job.odometer_km), style);
  for (const std::string& more : {v.registration, v.make_model, v.owner})
    if (!more.empty()) facts += " · " + more;
  html.out += "<p>" + html_text(facts) + "</p></div>\n";
  front(html, summary);
  cautions(html);
  for (const PartSummary& part : summary.parts)
    if (!part.photos.empty() || !part.readings.empty()) part_section(html, record, summary, part);
  refit_list(html, summary);
  html.out += fmt::format(
      "<p class=\"label\">Scantling {}, job {}{}</p></body></html>\n", kVersion, summary.job.id,
      style.length == LengthUnit::inch ? "; measured in mm, 1 in = 25.4 mm" : "");
  return html.out;
}

}  // namespace scantling
