#include "values.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <optional>

#include "eyebrow/plot.hpp"
#include "options.hpp"
#include "spec/quantity.hpp"

namespace eyebrow::cli {
namespace {

constexpr double kLeastStep = 0.01, kGreatestStep = 10;  // degrees
// Gaps are hundredths of a mm or thousandths of an inch: fewer decimals make every gap 0 and every margin one.
constexpr int kLeastDigits = 2, kMostDigits = 6;  // the most is a nanometre, far below what is promised
constexpr double kHalfCycle = 360;                // degrees
// Fewer engines say nothing of a share; more would say what tolerances cannot be known for, and take minutes.
constexpr int kLeastSamples = 100, kMostSamples = 1000000;
constexpr double kMostSeed = 4294967295.0;
// Smaller pictures have no room for what is written in them; larger ones take gigabytes to draw.
constexpr int kLeastSide = 240, kMostSide = 3000;
constexpr int kMostFrames = 1500;

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
  if (!value || *value < kLeastDigits || *value > kMostDigits || *value != std::floor(*value))
    throw UsageError(
        fmt::format("{}: \"{}\" is no usable number of decimals; allowed: {} to {}, as gaps are hundredths "
                    "of a mm or thousandths of an inch",
                    option, text, kLeastDigits, kMostDigits));
  return static_cast<int>(*value);
}

std::size_t parse_samples(const std::string& option, const std::string& text) {
  const std::optional<double> value = number(text);
  if (!value || *value < kLeastSamples || *value > kMostSamples || *value != std::floor(*value))
    throw UsageError(fmt::format("{}: \"{}\" is no usable number of engines; allowed: {} to {}", option, text,
                                 kLeastSamples, kMostSamples));
  return static_cast<std::size_t>(*value);
}

std::uint64_t parse_seed(const std::string& option, const std::string& text) {
  const std::optional<double> value = number(text);
  if (!value || *value < 0 || *value > kMostSeed || *value != std::floor(*value))
    throw UsageError(
        fmt::format("{}: \"{}\" is no seed; allowed: a whole number, 0 to {:.0f}", option, text, kMostSeed));
  return static_cast<std::uint64_t>(*value);
}

double parse_length(const std::string& option, const std::string& text, double least, double most) {
  const auto refuse = [&](const std::string& why) {
    throw UsageError(
        fmt::format("{}: \"{}\" {}; allowed: {:g} to {:g} mm with its unit, such as \"1.5mm\" or "
                    "\"0.060in\"",
                    option, text, why, least, most));
  };
  const auto parsed = parse_quantity(text);
  const auto* quantity = std::get_if<Quantity>(&parsed);
  if (quantity == nullptr || !std::isfinite(quantity->number)) refuse("is no length");
  if (quantity->unit == Unit::none) refuse("has no unit");
  if (measure_of(quantity->unit) != Measure::length) refuse("is no length");
  const double mm = quantity->number * factor(quantity->unit);
  if (mm < least || mm > most) refuse("is out of range");
  return mm;
}

std::vector<double> parse_lengths(const std::string& option, const std::string& text, double least, double most) {
  std::vector<double> out;
  for (std::size_t from = 0; from <= text.size();) {
    const std::size_t comma = std::min(text.find(',', from), text.size());
    out.push_back(parse_length(option, text.substr(from, comma - from), least, most));
    from = comma + 1;
  }
  return out;
}

double parse_tilt(const std::string& option, const std::string& text) {
  constexpr double kMost = 45;
  const std::optional<double> value = number(text);
  if (!value || *value < 0 || *value > kMost)
    throw UsageError(fmt::format("{}: \"{}\" is no tilt; allowed: 0 to {:g} degrees", option, text, kMost));
  return *value * kDegree;
}

double parse_share(const std::string& option, const std::string& text) {
  // More than can be shown by as many engines as are drawn at most is not asked for.
  constexpr double kLeast = 50, kMost = 99.999;
  const std::size_t sign = text.find('%');
  const std::optional<double> value =
      sign != std::string::npos && sign + 1 == text.size() ? number(text.substr(0, sign)) : std::nullopt;
  if (!value || *value < kLeast || *value > kMost)
    throw UsageError(fmt::format("{}: \"{}\" is no usable share of engines; allowed: {:g}% to {:g}%, such as \"99.9%\"",
                                 option, text, kLeast, kMost));
  return *value / 100;
}

std::string parse_step_file(const std::string& option, const std::string& text) {
  const std::string path = parse_path(option, text);
  const std::string name = lower(path);
  for (const char* ending : {".step", ".stp"})
    if (name.ends_with(ending)) return path;
  throw UsageError(
      fmt::format("{}: \"{}\" is no name of a STEP file; allowed: a name that ends in .step or .stp, such "
                  "as \"{}.step\"",
                  option, text, text));
}

std::string parse_picture(const std::string& option, const std::string& text) {
  const std::string path = parse_path(option, text);
  if (plot_file(path)) return path;
  throw UsageError(
      fmt::format("{}: \"{}\" is no name of a picture; allowed: a name that ends in .svg, .pdf or .png", option, text));
}

PlaceInCycle parse_at(const std::string& option, const std::string& text) {
  const std::string word = "tightest";
  if (text == word) return {};
  if (text.starts_with(word + ":") && text.size() > word.size() + 1) return {{}, text.substr(word.size() + 1)};
  try {
    return {parse_crank(option, text), ""};
  } catch (const UsageError&) {
    throw UsageError(
        fmt::format("{}: \"{}\" is no place in the cycle; allowed: 12.5ATDC, 8BTDC, TDC, degrees from -360 to 360 "
                    "(negative = before), tightest, or tightest:NAME such as tightest:intake.radial",
                    option, text));
  }
}

std::pair<int, int> parse_size(const std::string& option, const std::string& text) {
  const std::size_t cross = text.find('x');
  const double width = number(text.substr(0, cross)).value_or(0);
  const double height = cross == std::string::npos ? 0 : number(text.substr(cross + 1)).value_or(0);
  const auto fits = [](double side) { return side >= kLeastSide && side <= kMostSide && side == std::floor(side); };
  if (!fits(width) || !fits(height))
    throw UsageError(fmt::format("{}: \"{}\" is no size; allowed: WIDTHxHEIGHT such as 1600x1000, each {} to {} pixels",
                                 option, text, kLeastSide, kMostSide));
  return {static_cast<int>(width), static_cast<int>(height)};
}

std::vector<double> parse_cycle(const std::string& option, const std::string& text) {
  const auto wrong = [&](const std::string& why) {
    return UsageError(fmt::format("{}: \"{}\" {}; allowed: FROM:TO:STEP such as 40BTDC:40ATDC:1", option, text, why));
  };
  const std::size_t first = text.find(':'), second = text.find(':', first == std::string::npos ? first : first + 1);
  if (second == std::string::npos || text.find(':', second + 1) != std::string::npos)
    throw wrong("is no range of crank angles");
  const double from = parse_crank(option, text.substr(0, first));
  const double to = parse_crank(option, text.substr(first + 1, second - first - 1));
  const std::optional<double> step = number(text.substr(second + 1));
  if (!step || *step <= 0) throw wrong("has no step in degrees above 0");
  if (to <= from) throw wrong("ends before it begins");
  const double count = std::floor((to - from) / (*step * kDegree) + 1e-6) + 1;
  if (count > kMostFrames) throw wrong(fmt::format("asks for {:.0f} pictures, {} at most", count, kMostFrames));
  std::vector<double> out;
  for (int i = 0; i < static_cast<int>(count); ++i) out.push_back(from + i * *step * kDegree);
  return out;
}

std::string parse_section(const std::string& option, const std::string& text) {
  if (!text.empty() && !text.starts_with('-')) return text;
  throw UsageError(
      fmt::format("{}: \"{}\" is no section; allowed: a valve's name, a name and o'clock such as intake@4:30, or x=, "
                  "y= or z= a length",
                  option, text));
}

int parse_spin(const std::string& option, const std::string& text) {
  const std::optional<double> value = number(text);
  if (!value || *value < 2 || *value > kMostFrames || *value != std::floor(*value))
    throw UsageError(
        fmt::format("{}: \"{}\" is no usable number of pictures; allowed: 2 to {}", option, text, kMostFrames));
  return static_cast<int>(*value);
}

std::string parse_word(const std::string& option, const std::string& text, const std::vector<std::string>& words) {
  if (std::find(words.begin(), words.end(), text) != words.end()) return text;
  throw UsageError(fmt::format("{}: \"{}\" is not known here; allowed: {}", option, text, fmt::join(words, ", ")));
}

std::string parse_picture_or_film(const std::string& option, const std::string& text, bool several) {
  const std::string path = parse_path(option, text);
  const std::string name = lower(path);
  if (plot_file(path) == PlotFile::png) return path;
  for (const char* ending : {".mp4", ".webm", ".gif"}) {
    if (!name.ends_with(ending)) continue;
    if (several) return path;
    throw UsageError(
        fmt::format("{}: \"{}\" moves; give --cycle or --spin, or a name that ends in .png", option, text));
  }
  throw UsageError(
      fmt::format("{}: \"{}\" is no name of a picture; allowed: a name that ends in .png, with --cycle or --spin also "
                  ".mp4, .webm or "
                  ".gif",
                  option, text));
}

std::string parse_path(const std::string& option, const std::string& text) {
  if (text.empty()) throw UsageError(option + ": the file name is empty");
  if (text.starts_with("--"))
    throw UsageError(
        fmt::format("{}: a file name is missing before \"{}\" (write ./{} if that is its name)", option, text, text));
  return text;
}

}  // namespace eyebrow::cli
