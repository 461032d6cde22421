#include "uncertainty/joined_chain.h"

#include <cmath>
#include <map>
#include <utility>

namespace scantling {
namespace {

/// Where an input of a part gets its drawn value from: its own error, the common one, or both.
struct Feed {
  double estimate = 0;
  std::size_t own = 0, common = 0;           ///< inputs of the joint, of unit size
  double own_factor = 0, common_factor = 0;  ///< 0: none
};

struct DrawnPart {
  std::shared_ptr<const SizeChain> chain;
  std::vector<Feed> feeds;
};

/// A source of the joint, each of the words given added once.
class Sources {
 public:
  explicit Sources(SizeChain& chain) : chain_(chain) {}
  SizeChain::Source of(const std::string& words, const std::string& advice, double dof) {
    const auto known = by_words_.find(words);
    if (known != by_words_.end()) return known->second;
    return by_words_[words] = chain_.add_source(words, advice, dof);
  }

 private:
  SizeChain& chain_;
  std::map<std::string, SizeChain::Source> by_words_;
};

}  // namespace

std::shared_ptr<const SizeChain> join_chains(std::span<const ChainPart> parts,
                                             const ChainJoint& joint) {
  auto chain = std::make_shared<SizeChain>();
  Sources sources(*chain);
  std::map<std::pair<std::string, std::size_t>, std::size_t> common_inputs;  // words, which of them
  std::vector<DrawnPart> drawn;
  for (const ChainPart& part : parts) {
    if (!part.chain) return nullptr;
    DrawnPart fed{part.chain, {}};
    std::map<std::string, std::size_t> seen;
    for (std::size_t i = 0; i < part.chain->inputs().size(); ++i) {
      const Distribution& distribution = part.chain->inputs().distribution(i);
      const SizeChain::SourceWords& source = part.chain->source_of(i);
      Feed feed;
      feed.estimate = distribution.mean();
      const std::size_t which = seen[source.words]++;
      const double shared = joint.shared_share(source.words);
      const double deviation = distribution.standard_uncertainty();
      if (deviation > 0 && !(joint.held && joint.held(source.words))) {
        if (shared > 0) {
          const auto key = std::make_pair(source.words, which);
          auto known = common_inputs.find(key);
          if (known == common_inputs.end())
            known = common_inputs
                        .emplace(key, chain->add_input(sources.of(source.words, source.advice,
                                                                  source.degrees_of_freedom),
                                                       distribution.of_unit_error()))
                        .first;
          feed.common = known->second;
          feed.common_factor = deviation * std::sqrt(shared);
        }
        if (shared < 1) {
          const std::string words =
              part.owner.empty() ? source.words : part.owner + ": " + source.words;
          feed.own = chain->add_input(sources.of(words, source.advice, source.degrees_of_freedom),
                                      distribution.of_unit_error());
          feed.own_factor = deviation * std::sqrt(1 - shared);
        }
      }
      fed.feeds.push_back(feed);
    }
    drawn.push_back(std::move(fed));
  }
  std::vector<std::size_t> extras;
  for (const ChainJoint::Extra& extra : joint.extras)
    extras.push_back(chain->add_input(
        sources.of(extra.line.source, extra.line.advice, extra.line.degrees_of_freedom),
        extra.distribution));

  chain->set_model([drawn = std::move(drawn), extras = std::move(extras),
                    size_mm = joint.size_mm](std::span<const double> x) {
    std::vector<double> sizes, own, more;
    sizes.reserve(drawn.size());
    for (const DrawnPart& part : drawn) {
      own.clear();
      for (const Feed& f : part.feeds) {
        double value = f.estimate;
        if (f.own_factor > 0) value += f.own_factor * x[f.own];
        if (f.common_factor > 0) value += f.common_factor * x[f.common];
        own.push_back(value);
      }
      sizes.push_back(part.chain->size_mm(own));
    }
    for (const std::size_t input : extras) more.push_back(x[input]);
    return size_mm(sizes, more);
  });
  return chain;
}

}  // namespace scantling
