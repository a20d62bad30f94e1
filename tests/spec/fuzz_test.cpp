// Spoilt engine files: whatever comes, a reading or an InputError, and places that lie within the file.
#include <algorithm>
#include <random>

#include "spec/support.hpp"

namespace eyebrow::testing {
namespace {

/// Reads, and checks what is thrown. Returns whether the text was refused.
bool reads_or_refuses(const std::string& text, const std::vector<Override>& overrides = {}) {
  const int lines = static_cast<int>(std::count(text.begin(), text.end(), '\n')) + 2;
  try {
    const EngineFile file = parse_engine(text, "e.toml", overrides);
    EXPECT_FALSE(file.engine.valves.empty());
    EXPECT_GT(file.engine.cylinder.bore, 0);
  } catch (const InputError& error) {
    EXPECT_FALSE(error.faults().empty());
    EXPECT_LE(error.faults().size(), 101u);
    for (const Fault& fault : error.faults()) {
      EXPECT_FALSE(fault.message.empty());
      EXPECT_LE(fault.line, lines);
      EXPECT_LT(fault.message.size(), 2000u);
    }
    return true;
  }
  return false;
}

class Spoilt : public ::testing::TestWithParam<std::string> {};
INSTANTIATE_TEST_SUITE_P(Every, Spoilt, ::testing::ValuesIn(kModels));

TEST_P(Spoilt, Truncated) {
  const std::string text = file_text(model_path(GetParam()));
  int refused = 0;
  for (std::size_t size = 0; size < text.size(); size += 7) refused += reads_or_refuses(text.substr(0, size));
  EXPECT_GT(refused, 300) << "a file that was cut is seldom whole";
}

TEST_P(Spoilt, BytesChanged) {
  const std::string text = file_text(model_path(GetParam()));
  std::mt19937 random(20240611);
  const std::string signs = "[]{}=\"'#.,\n\\0123456789eE+-_ \t\x01\x7f\xc3\xff" + std::string(1, '\0') + "abxyz";
  const auto below = [&](std::size_t n) { return static_cast<std::size_t>(random() % n); };
  int refused = 0;
  for (int round = 0; round < 400; ++round) {
    std::string spoilt = text;
    for (std::size_t edits = 1 + below(4); edits > 0; --edits) {
      const std::size_t at = below(spoilt.size());
      switch (below(4)) {
        case 0:
          spoilt[at] = signs[below(signs.size())];
          break;
        case 1:
          spoilt.insert(at, 1, signs[below(signs.size())]);
          break;
        case 2:
          spoilt.erase(at, 1 + below(20));
          break;
        default:
          spoilt.insert(at, spoilt.substr(below(spoilt.size()), below(40)));
          break;
      }
    }
    refused += reads_or_refuses(spoilt);
  }
  EXPECT_GT(refused, 200);
  EXPECT_LT(refused, 400) << "edits in remarks do no harm";
}

TEST_P(Spoilt, LinesMoved) {
  const std::string text = file_text(model_path(GetParam()));
  std::vector<std::string> lines;
  for (std::size_t from = 0; from < text.size();) {
    const auto end = std::min(text.find('\n', from), text.size() - 1);
    lines.push_back(text.substr(from, end - from + 1));
    from = end + 1;
  }
  std::mt19937 random(7);
  int refused = 0;
  for (int round = 0; round < 200; ++round) {
    auto moved = lines;
    std::swap(moved[random() % moved.size()], moved[random() % moved.size()]);
    moved.erase(moved.begin() + static_cast<long>(random() % moved.size()));
    std::string joined;
    for (const std::string& line : moved) joined += line;
    refused += reads_or_refuses(joined);
  }
  EXPECT_GT(refused, 100);
}

TEST_P(Spoilt, OverridesOfAllKinds) {
  const std::string text = file_text(model_path(GetParam()));
  const EngineFile good = parsed(text);
  std::vector<std::string> keys;
  for (const auto& [key, origin] : good.origins) keys.push_back(key);
  const std::vector<std::string> values = {"0",    "-1",       "1e308",    "nan",      "x",           "\"",
                                           "like", "none",     "3 mm",     "\xff\xfe", "true",        "{",
                                           "1.5",  "1 \u00b1", "\u00b1 1", "1 +- 0.1", "1 +/- -1 mm", "2+-+-1"};
  std::mt19937 random(11);
  for (int round = 0; round < 300; ++round) {
    std::string key = keys[random() % keys.size()];
    if (random() % 3 == 0) key = key.substr(0, random() % (key.size() + 1));
    if (random() % 5 == 0) key += "." + std::to_string(random() % 9);
    if (random() % 6 == 0) key = "tolerance." + key;
    if (key.empty()) key = "a";
    reads_or_refuses(text, {{key, values[random() % values.size()]},
                            {keys[random() % keys.size()], values[random() % values.size()]}});
  }
}

}  // namespace
}  // namespace eyebrow::testing
