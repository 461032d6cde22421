#include "exchange/csv.h"

#include <fmt/format.h>

#include "record/words.h"
#include "report/part_summary.h"
#include "report/wording.h"

namespace scantling {

namespace {

std::string row_of(const std::vector<std::string>& fields) {
  std::string row;
  for (std::size_t i = 0; i < fields.size(); ++i) {
    if (i > 0) row += ',';
    row += csv_field(fields[i]);
  }
  row += "\r\n";
  return row;
}

std::string number(std::optional<double> value) {
  return value ? fmt::format("{:.10g}", *value) : std::string();
}

}  // namespace

std::string csv_field(const std::string& text) {
  std::string field = text;
  // A number may begin with a minus; other text that begins like a formula may
  // not.
  const bool formula =
      !field.empty() && std::string_view("=+-@\t\r").find(field[0]) != std::string_view::npos;
  if (formula && field.find_first_not_of("+-.0123456789e") != std::string::npos)
    field.insert(0, 1, '\'');
  if (field.find_first_of(",\"\r\n") == std::string::npos) return field;
  std::string quoted(1, '"');
  for (const char c : field) quoted.append(c == '"' ? 2 : 1, c);
  quoted += '"';
  return quoted;
}

std::string dimensions_csv(const Record& record) {
  std::string csv = row_of({"job", "date", "odometer_km", "vehicle", "registration", "axle", "kind",
                            "side", "place", "source", "dimension", "value_mm",
                            "standard_uncertainty_mm", "expanded_95_mm", "confidence", "minimum_mm",
                            "photo_sha256", "made_at", "engine_version"});
  for (const Job& job : record.jobs()) {
    const Vehicle vehicle = record.vehicle(job.vehicle_id).value_or(Vehicle{});
    for (const Part& part : record.parts(job.id)) {
      const std::vector<std::string> head{std::to_string(job.id),
                                          job.date,
                                          number(job.odometer_km),
                                          vehicle.name,
                                          vehicle.registration,
                                          axle_word(job.axle),
                                          kind_word(part.kind),
                                          side_word(part.side),
                                          part.kind == PartKind::pad ? place_word(part.place) : ""};
      const auto add = [&](std::vector<std::string> rest) {
        std::vector<std::string> fields = head;
        fields.insert(fields.end(), rest.begin(), rest.end());
        csv += row_of(fields);
      };
      for (const PhotoEntry& photo : record.photos(part.id)) {
        const auto newest = record.newest_measurement(photo.id);
        if (!newest) continue;
        const Measurement measurement =
            as_confirmed(newest->measurement, record.confirmations(photo.id));
        for (const Dimension& d : measurement.dimensions)
          add({"photo", d.name, number(d.quantity.value_mm),
               number(d.quantity.standard_uncertainty_mm), number(d.quantity.expanded_95_mm()),
               number(d.confidence), number(part.minimum_mm), photo.sha256, newest->made_at,
               newest->engine_version});
      }
      for (const HandReadingEntry& r : record.hand_readings(part.id))
        add({r.instrument.empty() ? "by hand" : r.instrument, "hand_reading", number(r.value_mm),
             number(r.standard_uncertainty_mm),
             number(Quantity{r.value_mm, r.standard_uncertainty_mm, kUnlimitedDegreesOfFreedom, {}}
                        .expanded_95_mm()),
             "", number(part.minimum_mm), "", r.read_at, ""});
    }
  }
  return csv;
}

}  // namespace scantling
