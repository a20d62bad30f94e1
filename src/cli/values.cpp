#include "values.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <numeric>
#include <optional>

#include "options.hpp"

namespace eyebrow::cli {
namespace {

constexpr double kLeastStep = 0.01, kGreatestStep = 10;  // degrees
constexpr int kMostDigits = 6;                           // a nanometre, far below what is promised
constexpr double kHalfCycle = 360;                       // degrees

// The whole of `text` as a finite number.
std::optional<double> number(std::string text) {
  if (text.starts_with('+')) text.erase(0, 1);
  double value = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::string lower(std::string text) {
  for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

// Removes `ending` and the spaces before it.
bool take_ending(std::string& text, const std::string& ending) {
  if (!text.ends_with(ending)) return false;
  text.erase(text.size() - ending.size());
  text.erase(text.find_last_not_of(' ') + 1);
  return true;
}

// Least number of letters to insert, remove, exchange, or swap with the next.
std::size_t edits(const std::string& a, const std::string& b) {
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), now(b.size() + 1);
  std::iota(last.begin(), last.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, last[j - 1] + (a[i - 1] != b[j - 1])});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) now[j] = std::min(now[j], before[j - 2] + 1);
    }
    before = last;
    last = now;
  }
  return last[b.size()];
}

}  // namespace

double parse_crank(const std::string& option, const std::string& text) {
  std::string rest = lower(text);
  const bool after = take_ending(rest, "atdc");
  const bool before = !after && take_ending(rest, "btdc");
  const bool top = !after && !before && take_ending(rest, "tdc");
  const std::optional<double> value = top && rest.empty() ? 0.0 : number(rest);
  const bool side = after || before;
  // "-5 ATDC" could mean either side; "5 TDC" neither.
  const bool clear = value && !(side && *value < 0) && !(top && *value != 0);
  if (!clear || std::fabs(*value) > kHalfCycle)
    throw UsageError(
        fmt::format("{}: \"{}\" is no crank angle; allowed: 12.5ATDC, 8BTDC, TDC, or degrees from -360 to 360 "
                    "(negative = before)",
                    option, text));
  return (before ? -*value : *value) * kDegree;
}

double parse_step(const std::string& option, const std::string& text) {
  const std::optional<double> value = number(text);
  if (!value || *value < kLeastStep || *value > kGreatestStep)
    throw UsageError(
        fmt::format("{}: \"{}\" is no step; allowed: {} to {} crank degrees", option, text, kLeastStep, kGreatestStep));
  return *value * kDegree;
}

LengthUnit parse_units(const std::string& option, const std::string& text) {
  if (text == "mm") return LengthUnit::mm;
  if (text == "in") return LengthUnit::inch;
  throw UsageError(fmt::format("{}: \"{}\" is no unit here; allowed: mm, in", option, text));
}

int parse_digits(const std::string& option, const std::string& text) {
  const std::optional<double> value = number(text);
  if (!value || *value < 0 || *value > kMostDigits || *value != std::floor(*value))
    throw UsageError(fmt::format("{}: \"{}\" is no number of decimals; allowed: 0 to {}", option, text, kMostDigits));
  return static_cast<int>(*value);
}

std::string parse_path(const std::string& option, const std::string& text) {
  if (text.empty()) throw UsageError(option + ": the file name is empty");
  if (text.starts_with("--"))
    throw UsageError(
        fmt::format("{}: a file name is missing before \"{}\" (write ./{} if that is its name)", option, text, text));
  return text;
}

std::string nearest_word(const std::string& read, const std::vector<std::string>& words) {
  const std::string* nearest = nullptr;
  std::size_t fewest = 1 + std::max<std::size_t>(1, read.size() / 3);
  for (const std::string& word : words) {
    const std::size_t needed = edits(lower(read), word);
    if (needed < fewest) {
      fewest = needed;
      nearest = &word;
    }
  }
  return nearest ? fmt::format(", did you mean \"{}\"?", *nearest) : "";
}

}  // namespace eyebrow::cli
