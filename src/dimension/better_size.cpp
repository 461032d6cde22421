#include "dimension/better_size.h"

#include <algorithm>
#include <cctype>
#include <cstdio>

#include "dimension/better_input.h"
#include "dimension/lip_outlook.h"

namespace scantling {

void keep_worthwhile(std::vector<BetterSize>& sizes) {
  std::erase_if(sizes, [](const BetterSize& s) {
    return !(s.then_95_mm() <= (1 - kLeastGain) * s.now_95_mm);
  });
  std::stable_sort(sizes.begin(), sizes.end(), [](const BetterSize& a, const BetterSize& b) {
    return a.then_95_mm() < b.then_95_mm();
  });
}

std::vector<BetterSize> better_sizes(const Quantity& size) {
  std::vector<BetterSize> list;
  for (const std::string& input : better_inputs(size))
    list.push_back(
        {input, better_input_words(input), with_better_input(size, input), size.expanded_95_mm()});
  keep_worthwhile(list);
  return list;
}

std::vector<BetterSize> better_sizes(const Measurement& measurement, std::string_view dimension) {
  const Dimension* d = measurement.dimension(dimension);
  if (!d) return {};
  std::vector<BetterSize> list = better_sizes(d->quantity);
  if (measurement.lip && d->name == "lip_height")
    if (const auto joint = lip_with_another_photo(std::span(&measurement, 1)))
      if (const Dimension* height = joint->dimension("lip_height"))
        list.push_back({kAnotherHeight,
                        "photograph the lip " + another_height_words(std::span(&measurement, 1)),
                        height->quantity, d->quantity.expanded_95_mm()});
  keep_worthwhile(list);
  return list;
}

std::string better_size_sentence(const BetterSize& better) {
  std::string words = better.words;
  if (!words.empty())
    words[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(words[0])));
  char figures[64];
  std::snprintf(figures, sizeof figures, ": \u00B1 %.2f mm to \u00B1 %.2f mm.", better.now_95_mm,
                better.then_95_mm());
  return words + figures;
}

}  // namespace scantling
