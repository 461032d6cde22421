#include "report/html_report.h"

#include <fmt/format.h>

#include <cmath>

#include "base/version.h"
#include "photo/photo.h"
#include "report/refit_list.h"
#include "report/scaled_photo.h"
#include "report/wear_plot.h"
#include "report/wording.h"
#include "verdict/cautions.h"
#include "verdict/size_text.h"

namespace scantling {

namespace {

constexpr int kPhotoSide_px = 1280;

constexpr const char* kStyle = R"css(
body{font:16px/1.45 Inter,"DejaVu Sans",sans-serif;max-width:60rem;margin:1.5rem auto;padding:0 1rem;color:#000;background:#fff}
h1{font-size:1.6rem;margin:0}h2{font-size:1.25rem;margin:2rem 0 .3rem;border-bottom:2px solid #000}h3{font-size:1rem;margin:1.1rem 0 .2rem}
table{border-collapse:collapse;margin:.3rem 0}th,td{text-align:left;padding:.15rem .9rem .15rem 0;vertical-align:top}th{font-weight:600}
tr+tr td{border-top:1px solid #bbb}td.n{text-align:right;font-variant-numeric:tabular-nums}
.state{font-weight:700;white-space:nowrap}.mark{display:inline-block;width:.9em;height:.9em;border:1.5px solid #000;margin-right:.4em;vertical-align:-.1em}
.small{font-size:.85rem}svg{width:100%;height:auto}figure{margin:.6rem 0}@media print{h2{break-before:page}}
)css";

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

void line(std::string& out, std::string_view tag, std::string_view text) {
  out += fmt::format("<{0}>{1}</{0}>\n", tag, html_text(text));
}

void front_table(std::string& out, const JobSummary& summary) {
  out +=
      "<table><tr><th>part</th><th>state</th><th>size, 95 "
      "%</th><th>minimum</th><th>chance "
      "below</th></tr>\n";
  for (const PartSummary& part : summary.parts)
    out += fmt::format(
        "<tr><td>{}</td><td class=\"state\"><span class=\"mark\" "
        "style=\"{}\"></span>{}</td>"
        "<td class=\"n\">{}</td><td class=\"n\">{}</td><td "
        "class=\"n\">{}</td></tr>\n",
        html_text(part_title(part.part, summary.job.axle)), mark_style(part), html_text(part.state),
        part.size ? html_text(size_with_95(part.size->quantity)) : "no size",
        part.part.minimum_mm ? html_text(minimum_number(*part.part.minimum_mm)) : "none given",
        part.verdict && part.verdict->probability_below
            ? html_text(chance_text(*part.verdict->probability_below))
            : "");
  out += "</table>\n";
}

void photo_figure(std::string& out, const Record& record, const PhotoFinding& finding) {
  const cv::Mat rgb = load_colour(record.photo_path(finding.photo));
  if (rgb.empty()) {
    line(out, "p",
         "The photo " + finding.photo.original_name +
             " cannot be shown: its file is missing or unreadable.");
    return;
  }
  const ScaledPhoto photo = scaled_photo(rgb, {{}, rgb.size()}, kPhotoSide_px);
  out += fmt::format(
      "<figure><svg viewBox=\"0 0 {0} {1}\" role=\"img\" "
      "aria-label=\"photo with its edges\">"
      "<image width=\"{0}\" height=\"{1}\" "
      "href=\"data:image/jpeg;base64,{2}\"/>\n",
      rgb.cols, rgb.rows, base64(photo.jpeg));
  const double width = rgb.cols / 700.0;
  if (finding.newest)
    for (const MeasuredEdge& edge : finding.newest->measurement.edges) {
      std::string points;
      for (const Point_px& p : edge.points_px) points += fmt::format("{:.1f},{:.1f} ", p.x, p.y);
      for (const auto& [colour, stroke] :
           {std::pair{"#16181c", 2.2 * width}, std::pair{"#f0e442", width}})
        out += fmt::format(
            "<polyline points=\"{}\" fill=\"none\" "
            "stroke=\"{}\" stroke-width=\"{:.2f}\"><title>{}"
            "</title></polyline>\n",
            points, colour, stroke, html_text(edge_title(edge.name)));
    }
  out += "</svg>";
  out += fmt::format(
      "<figcaption class=\"small\">{}, added {}, SHA-256 "
      "{}</figcaption></figure>\n",
      html_text(finding.photo.original_name), html_text(time_title(finding.photo.added_at)),
      finding.photo.sha256);
}

std::string sources_of(const Dimension& d) {
  std::string sources;
  for (const BudgetLine& b : d.quantity.budget)
    if (b.standard_uncertainty_mm >= 0.0005)
      sources += fmt::format("{}{} {:.3f}", sources.empty() ? "" : "; ", b.source,
                             b.standard_uncertainty_mm);
  return sources;
}

void worn_table(std::string& out, const PartSummary& part) {
  if (!part.worn) return;
  line(out, "h3", "How the worn thickness comes about");
  out += "<table>\n";
  for (const WornRow& row : worn_rows(*part.worn))
    out += fmt::format("<tr><td>{0}{2}{1}</td><td class=\"n\">{0}{3}{1}</td></tr>\n",
                       row.result ? "<b>" : "", row.result ? "</b>" : "", html_text(row.words),
                       html_text(row.size));
  out += "</table>\n";
  line(out, "p", not_over_the_lips());
  if (part.worn->worn)
    line(
        out, "p",
        "Where its uncertainty comes from, one sigma in mm: " + sources_of(*part.worn->worn) + ".");
}

void measured(std::string& out, const PhotoFinding& finding) {
  if (!finding.newest) return line(out, "p", "This photo has not been measured yet.");
  const Measurement& m = finding.newest->measurement;
  if (!m.dimensions.empty() && finding.edges_to_confirm.empty()) {
    out +=
        "<table><tr><th>size</th><th>95 %</th><th>where its uncertainty "
        "comes from, one sigma in "
        "mm</th></tr>\n";
    for (const Dimension& d : m.dimensions) {
      out += fmt::format(
          "<tr><td>{}</td><td class=\"n\">{}</td><td "
          "class=\"small\">{}</td></tr>\n",
          html_text(dimension_title(d.name)), html_text(size_with_95(d.quantity)),
          html_text(sources_of(d)));
    }
    out += "</table>\n";
  }
  for (const Check& check : m.checks) line(out, "p", check.message);
}

void wear_drawing(std::string& out, const PartSummary& part) {
  const auto plot = wear_plot(part);
  if (!plot) return;
  line(out, "h3", "Wear so far and to come");
  for (const std::string& sentence : wear_sentences(part)) line(out, "p", sentence);
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
      y(plot->minimum_mm));
  out += fmt::format("<text x=\"66\" y=\"{:.1f}\">minimum {}</text>", y(plot->minimum_mm) + 14,
                     html_text(minimum_number(plot->minimum_mm)));
  for (const double mm : WearPlot::marks(plot->low_mm, plot->high_mm, 5))
    out +=
        fmt::format("<text x=\"54\" y=\"{:.1f}\" text-anchor=\"end\">{:g}</text>", y(mm) + 4, mm);
  for (const double km : WearPlot::marks(plot->first_km, plot->last_km, 6))
    out += fmt::format("<text x=\"{:.1f}\" y=\"266\" text-anchor=\"middle\">{:.0f}</text>", x(km),
                       km / 1000);
  out +=
      "<text x=\"780\" y=\"284\" text-anchor=\"end\">1 000 km on the "
      "odometer</text><text "
      "x=\"54\" y=\"14\" text-anchor=\"end\">mm</text>";
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
        "cy=\"{3:.1f}\" r=\"4\"><title>{4}: {5:.2f} mm"
        "</title></circle>\n",
        x(p.km), y(p.mm - p.half_95_mm), y(p.mm + p.half_95_mm), y(p.mm), html_text(p.label), p.mm);
  out +=
      "<rect x=\"60\" y=\"20\" width=\"720\" height=\"230\" fill=\"none\" "
      "stroke=\"#666\"/></svg>\n";
}

void part_section(std::string& out, const Record& record, const JobSummary& summary,
                  const PartSummary& part) {
  line(out, "h2", part_title(part.part, summary.job.axle));
  out += fmt::format("<p class=\"state\"><span class=\"mark\" style=\"{}\"></span>{}</p>\n",
                     mark_style(part), html_text(part.state));
  for (const std::string& sentence : part.because) line(out, "p", sentence);
  for (const Check& check : part.cautions) line(out, "p", check.message);
  worn_table(out, part);
  std::vector<PhotoEntry> entries;
  for (const PhotoFinding& finding : part.photos) entries.push_back(finding.photo);
  for (const PhotoFinding& finding : part.photos) {
    line(out, "h3", photo_title(finding.photo, entries));
    photo_figure(out, record, finding);
    if (finding.newest || !from_planes(finding.photo.view)) measured(out, finding);
  }
  if (!part.readings.empty()) {
    line(out, "h3", "Readings by hand");
    out +=
        "<table><tr><th>as typed</th><th>reading, 95 "
        "%</th><th>instrument</th><th>when</th></tr>\n";
    for (const HandReadingEntry& r : part.readings)
      out +=
          fmt::format("<tr><td>{}</td><td class=\"n\">{}</td><td>{}</td><td>{}</td></tr>\n",
                      html_text(r.as_typed),
                      html_text(size_with_95(
                          {r.value_mm, r.standard_uncertainty_mm, kUnlimitedDegreesOfFreedom, {}})),
                      html_text(r.instrument), html_text(time_title(r.read_at)));
    out += "</table>\n";
  }
  wear_drawing(out, part);
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

std::string html_report(const Record& record, const JobSummary& summary) {
  const Vehicle& v = summary.vehicle;
  const std::string title = v.name.empty() ? std::string("Brake check") : "Brake check: " + v.name;
  std::string out = "<!DOCTYPE html>\n<html lang=\"en-GB\"><head><meta charset=\"utf-8\">\n";
  out +=
      "<meta name=\"viewport\" content=\"width=device-width, "
      "initial-scale=1\">\n";
  line(out, "title", title);
  out += fmt::format("<style>{}</style></head><body>\n", kStyle);
  line(out, "h1", title);
  std::string facts =
      fmt::format("{}, {}", date_title(summary.job.date), axle_title(summary.job.axle));
  if (summary.job.odometer_km) facts += ", " + distance_title(*summary.job.odometer_km);
  for (const std::string& more : {v.registration, v.make_model, v.owner})
    if (!more.empty()) facts += " · " + more;
  line(out, "p", facts);
  front_table(out, summary);
  for (const std::string& note : summary.axle_notes) line(out, "p", note);
  if (!summary.job.note.empty()) line(out, "p", summary.job.note);
  line(out, "p", beyond_thickness());
  for (const PartSummary& part : summary.parts) part_section(out, record, summary, part);
  if (summary.work) {
    line(out, "h2", "Refit list");
    out += "<ol>\n";
    for (const RefitStep& step : refit_steps(summary)) {
      std::string text = step.text;
      for (const std::string& caution : step.cautions) text += " Mind: " + caution;
      line(out, "li", text);
    }
    out += "</ol>\n";
  }
  line(out, "h2", "While you work");
  out += "<ul>\n";
  for (const Caution& caution : work_cautions())
    line(out, "li", fmt::format("{} ({})", caution.text, caution.basis));
  out += fmt::format("</ul>\n<p class=\"small\">Scantling {}, job {}</p></body></html>\n", kVersion,
                     summary.job.id);
  return out;
}

}  // namespace scantling
