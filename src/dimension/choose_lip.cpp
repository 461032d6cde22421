#include <algorithm>
#include <cmath>
#include <limits>

#include "dimension/lip_sizes.h"
#include "dimension/read_lip.h"

namespace scantling {
namespace {

double square(double x) {
  return x * x;
}

/// How far a choice of readings is from one foot, one height and one run: half of chi-square.
double disagreement(const std::vector<const LipFacts*>& facts) {
  constexpr double kReading_u_mm = 0.03, kFoot_u_mm = 0.12;
  // Normal equations of h and w, the run's usual spread among them.
  double hh = 0, hw = 0, ww = 1 / square(kUsualRun_u_mm), h = 0;
  const double usual = usual_run_mm(facts.front()->height_without_run_mm);
  double w = usual / square(kUsualRun_u_mm);
  double foot = 0;
  for (const LipFacts* f : facts) {
    const double weight = 1 / (square(f->own_u_mm) + square(kReading_u_mm));
    hh += weight;
    hw += weight * f->run_share;
    ww += weight * square(f->run_share);
    h += weight * f->height_without_run_mm;
    w += weight * f->run_share * f->height_without_run_mm;
    foot += f->foot_from_card_mm / static_cast<double>(facts.size());
  }
  const double determinant = hh * ww - hw * hw;
  const double height = (h * ww - w * hw) / determinant, run = (w * hh - h * hw) / determinant;
  double chi2 = square((run - usual) / kUsualRun_u_mm);
  for (const LipFacts* f : facts) {
    chi2 += square(height + run * f->run_share - f->height_without_run_mm) /
            (square(f->own_u_mm) + square(kReading_u_mm));
    chi2 += square((f->foot_from_card_mm - foot) / kFoot_u_mm);
  }
  // A wall goes up.
  if (height < 0.03) chi2 += square((0.03 - height) / 0.03);
  return 0.5 * chi2;
}

}  // namespace

LipAgreement choose_lip_readings(const std::vector<std::vector<LipChoice>>& photos) {
  LipAgreement agreement;
  agreement.chosen.assign(photos.size(), 0);
  std::vector<std::size_t> with;  // photos that have any reading
  for (std::size_t i = 0; i < photos.size(); ++i) {
    agreement.scores.emplace_back();
    for (const LipChoice& reading : photos[i]) agreement.scores[i].push_back(reading.score);
    if (!photos[i].empty()) with.push_back(i);
  }
  if (with.size() < 2) return agreement;
  for (std::vector<double>& of_photo : agreement.scores)
    std::fill(of_photo.begin(), of_photo.end(), -std::numeric_limits<double>::infinity());
  double best_cost = std::numeric_limits<double>::infinity();
  const auto cost = [&](const std::vector<std::size_t>& choice) {
    std::vector<const LipFacts*> facts;
    double sum = 0;
    for (const std::size_t i : with) {
      const LipChoice& reading = photos[i][choice[i]];
      facts.push_back(&reading.facts);
      sum -= reading.score;
    }
    sum += disagreement(facts);
    for (const std::size_t i : with) {
      double& score = agreement.scores[i][choice[i]];
      score = std::max(score, -sum);
    }
    if (sum < best_cost) {
      best_cost = sum;
      agreement.chosen = choice;
    }
    return sum;
  };
  // Every pair of readings of the first two photos is a start; the others, and then all in turn,
  // take what fits it best.
  for (std::size_t a = 0; a < photos[with[0]].size(); ++a)
    for (std::size_t b = 0; b < photos[with[1]].size(); ++b) {
      std::vector<std::size_t> choice(photos.size(), 0);
      choice[with[0]] = a;
      choice[with[1]] = b;
      double here = cost(choice);
      for (int round = 0; round < (with.size() > 2 ? 2 : 0); ++round)
        for (std::size_t n = 0; n < with.size(); ++n) {
          if (round == 0 && n < 2) continue;
          std::size_t& mine = choice[with[n]];
          for (std::size_t k = 0; k < photos[with[n]].size(); ++k) {
            const std::size_t before = mine;
            mine = k;
            const double c = cost(choice);
            if (c < here || (round == 0 && k == 0))
              here = c;
            else
              mine = before;
          }
        }
    }
  return agreement;
}

}  // namespace scantling
