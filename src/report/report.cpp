#include "report/report.h"

#include <fmt/format.h>

#include "base/version.h"
#include "report/report_pages.h"
#include "report/wording.h"

namespace scantling {

Document make_report(const Record& record, const JobSummary& summary, PageSize paper,
                     const FigureStyle& style) {
  const Job& job = summary.job;
  DocumentInfo info;
  info.title = fmt::format("Brake check, {}, {}, {}", summary.vehicle.name, axle_title(job.axle),
                           date_title(job.date));
  info.author = summary.vehicle.owner;
  info.subject = fmt::format("Scantling {} report of job {}", kVersion, job.id);
  info.created = job.date + "T00:00:00Z";
  Document document(info);
  PageFlow flow(document, paper, style);
  flow.new_page();
  write_cautions(flow);  // kept at the foot of the page that decides
  write_front(flow, summary);
  for (const PartSummary& part : summary.parts)
    if (!part.photos.empty() || !part.readings.empty()) write_part(flow, record, summary, part);
  const char* converted =
      style.length == LengthUnit::inch ? "   ·   measured in mm; 1 in = 25.4 mm" : "";
  flow.finish(fmt::format("Scantling {}   ·   job {}   ·   {}   ·   {}{}", kVersion, job.id,
                          summary.vehicle.registration, date_title(job.date), converted));
  return document;
}

}  // namespace scantling
