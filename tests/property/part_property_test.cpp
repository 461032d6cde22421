// What must hold for every part, whatever photos, stations, readings and minimum it has: nothing
// lower and nothing less sure ever turns "replace" or "gauge it" into "keep". Left out: sizes more
// than twelve times the minimum (their units are doubted, which a lower size may end).

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/part_summary.h"

namespace scantling {
namespace {

constexpr double kMinimum_mm = 2.0;

double in_steps(int low, int high, double step) {
  return step * *rc::gen::inRange(low, high);
}

double any_dof() {
  return *rc::gen::element(1.0, 2.5, 4.0, 9.0, 40.0, kUnlimitedDegreesOfFreedom);
}

Dimension dimension(const char* name, double value_mm, double u_mm, double dof) {
  Dimension d;
  d.name = name;
  d.quantity = combine_independent(value_mm, {{"edge", u_mm, dof, ""}});
  d.confidence = 0.95;
  return d;
}

PhotoFinding photo_of(View view, std::vector<Dimension> dimensions) {
  PhotoFinding finding;
  finding.photo.view = view;
  finding.newest.emplace();
  finding.newest->measurement.view = view;
  finding.newest->measurement.dimensions = std::move(dimensions);
  return finding;
}

/// A pad's photo as numbers that can be made worse one at a time.
struct PadPhoto {
  double middle_mm = 0, u_mm = 0, dof = 1;
  bool tapered = true;  ///< else the photo says nothing of a taper
  double taper_mm = 0, taper_u_mm = 0, taper_dof = 1;
  std::array<double, 5> bump_mm{};  ///< of each station, off the straight line

  PhotoFinding finding() const {
    Dimension friction = dimension("friction_thickness", middle_mm, u_mm, dof);
    if (!tapered) return photo_of(View::pad, {friction});
    for (int i = 0; i < 5; ++i) {
      const double place_mm = -20 + 10 * i;
      friction.stations.push_back(
          {place_mm, std::max(0.0, middle_mm + taper_mm * place_mm / 40 +
                                       bump_mm[static_cast<std::size_t>(i)])});
    }
    return photo_of(View::pad,
                    {friction, dimension("friction_taper", taper_mm, taper_u_mm, taper_dof)});
  }
};

PadPhoto any_photo() {
  PadPhoto photo{kMinimum_mm + in_steps(-300, 1500, 0.001), in_steps(1, 300, 0.001), any_dof()};
  photo.tapered = *rc::gen::inRange(0, 4) > 0;
  photo.taper_mm = in_steps(-800, 800, 0.001);
  photo.taper_u_mm = in_steps(1, 500, 0.001);
  photo.taper_dof = any_dof();
  for (double& bump : photo.bump_mm) bump = in_steps(-50, 50, 0.001);
  return photo;
}

struct Pad {
  std::vector<PadPhoto> photos;
  std::vector<HandReadingEntry> readings;
  double minimum_mm = kMinimum_mm;

  PartSummary summary() const {
    Part part;
    part.minimum_mm = minimum_mm;
    std::vector<PhotoFinding> findings;
    for (const PadPhoto& photo : photos) findings.push_back(photo.finding());
    return summarise_part(part, std::move(findings), readings);
  }
};

HandReadingEntry any_reading() {
  HandReadingEntry reading;
  reading.value_mm = kMinimum_mm + in_steps(-50, 300, 0.001);
  reading.standard_uncertainty_mm = in_steps(1, 60, 0.001);
  return reading;
}

Pad any_pad() {
  Pad pad;
  pad.photos.resize(static_cast<std::size_t>(*rc::gen::inRange(1, 4)));
  for (PadPhoto& photo : pad.photos) photo = any_photo();
  if (*rc::gen::inRange(0, 4) == 0)
    pad.readings.resize(static_cast<std::size_t>(*rc::gen::inRange(1, 3)));
  for (HandReadingEntry& reading : pad.readings) reading = any_reading();
  return pad;
}

bool kept(const PartSummary& summary) {
  return summary.state == "keep" || summary.state == "keep, due soon";
}

template <class T>
T& any_of(std::vector<T>& list) {
  return list[*rc::gen::inRange<std::size_t>(0, list.size())];
}

RC_GTEST_PROP(PartProperty, ALowerSizeNeverTurnsIntoKeep, ()) {
  Pad pad = any_pad();
  RC_PRE(!kept(pad.summary()));
  PadPhoto& photo = any_of(pad.photos);
  const double less_mm = in_steps(0, 1500, 0.001);
  if (*rc::gen::arbitrary<bool>())
    photo.middle_mm = std::max(0.0, photo.middle_mm - less_mm);
  else
    photo.bump_mm[*rc::gen::inRange<std::size_t>(0, 5)] -= less_mm;
  RC_ASSERT(!kept(pad.summary()));
}

RC_GTEST_PROP(PartProperty, ALargerUncertaintyNeverTurnsIntoKeep, ()) {
  Pad pad = any_pad();
  RC_PRE(!kept(pad.summary()));
  PadPhoto& photo = any_of(pad.photos);
  (*rc::gen::arbitrary<bool>() ? photo.u_mm : photo.taper_u_mm) += in_steps(0, 2000, 0.001);
  RC_ASSERT(!kept(pad.summary()));
}

RC_GTEST_PROP(PartProperty, FewerDegreesOfFreedomNeverTurnIntoKeep, ()) {
  Pad pad = any_pad();
  RC_PRE(!kept(pad.summary()));
  PadPhoto& photo = any_of(pad.photos);
  double& dof = *rc::gen::arbitrary<bool>() ? photo.dof : photo.taper_dof;
  dof = std::max(0.5, std::min(dof, 100.0) / 2);
  RC_ASSERT(!kept(pad.summary()));
}

RC_GTEST_PROP(PartProperty, ALowerOrVaguerReadingNeverTurnsIntoKeep, ()) {
  Pad pad = any_pad();
  if (pad.readings.empty()) pad.readings = {any_reading()};
  RC_PRE(!kept(pad.summary()));
  HandReadingEntry& reading = any_of(pad.readings);
  reading.value_mm -= in_steps(0, 500, 0.001);
  reading.standard_uncertainty_mm += in_steps(0, 100, 0.001);
  RC_ASSERT(!kept(pad.summary()));
}

RC_GTEST_PROP(PartProperty, AHigherMinimumNeverTurnsIntoKeep, ()) {
  Pad pad = any_pad();
  RC_PRE(!kept(pad.summary()));
  pad.minimum_mm += in_steps(0, 2000, 0.001);
  RC_ASSERT(!kept(pad.summary()));
}

RC_GTEST_PROP(PartProperty, OneMorePhotoNeverTurnsIntoKeep, ()) {
  Pad pad = any_pad();
  RC_PRE(!kept(pad.summary()));
  pad.photos.push_back(any_photo());
  RC_ASSERT(!kept(pad.summary()));
}

RC_GTEST_PROP(PartProperty, AnOutdatedScaleNeverTurnsIntoKeep, ()) {
  const Pad pad = any_pad();
  RC_PRE(pad.readings.empty());
  std::vector<PhotoFinding> findings;
  for (const PadPhoto& photo : pad.photos) findings.push_back(photo.finding());
  any_of(findings).scale_changed = true;
  Part part;
  part.minimum_mm = kMinimum_mm;
  RC_ASSERT(!kept(summarise_part(part, std::move(findings), {})));
}

/// A disc with one lip photo a face and one to three of its rim.
struct Disc {
  std::vector<Quantity> rims;

  PartSummary summary() const {
    Part part;
    part.kind = PartKind::disc;
    part.minimum_mm = 20;
    std::vector<PhotoFinding> findings;
    for (const Quantity& rim : rims)
      findings.push_back(
          photo_of(View::rim, {dimension("rim_thickness", rim.value_mm, rim.standard_uncertainty_mm,
                                         rim.degrees_of_freedom)}));
    for (const DiscFace face : {DiscFace::outboard, DiscFace::inboard}) {
      findings.push_back(photo_of(View::lip, {dimension("lip_height", 0.5, 0.02, 50)}));
      findings.back().photo.face = face;
      LipFacts lip;
      lip.height_without_run_mm = 0.5;
      lip.elevation_deg = 60;
      lip.distance_mm = 300;
      lip.own_u_mm = 0.02;
      lip.own_dof = 50;
      findings.back().newest->measurement.lip = lip;
    }
    return summarise_part(part, std::move(findings), {});
  }
};

Disc any_disc() {
  Disc disc;
  disc.rims.resize(static_cast<std::size_t>(*rc::gen::inRange(1, 4)));
  for (Quantity& rim : disc.rims)
    rim = {
        21 + in_steps(-300, 1500, 0.001), in_steps(1, 300, 0.001), kUnlimitedDegreesOfFreedom, {}};
  return disc;
}

RC_GTEST_PROP(PartProperty, ALowerOrVaguerRimNeverTurnsIntoKeep, ()) {
  Disc disc = any_disc();
  RC_PRE(!kept(disc.summary()));
  Quantity& rim = any_of(disc.rims);
  rim.value_mm -= in_steps(0, 1500, 0.001);
  rim.standard_uncertainty_mm += in_steps(0, 1500, 0.001);
  RC_ASSERT(!kept(disc.summary()));
}

RC_GTEST_PROP(PartProperty, OneMoreRimPhotoNeverTurnsIntoKeep, ()) {
  Disc disc = any_disc();
  RC_PRE(!kept(disc.summary()));
  disc.rims.push_back(any_disc().rims.front());
  RC_ASSERT(!kept(disc.summary()));
}

/// The properties above say something only where parts are kept at all.
RC_GTEST_PROP(PartProperty, AClearPartIsKept, ()) {
  Pad pad = any_pad();
  pad.readings.clear();
  for (PadPhoto& photo : pad.photos) {
    photo.middle_mm = 9;
    photo.dof = photo.taper_dof = 40;
  }
  RC_ASSERT(kept(pad.summary()));
}

}  // namespace
}  // namespace scantling
