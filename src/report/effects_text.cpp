// What inputs do to least gaps, strongest first.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "eyebrow/effects_report.hpp"
#include "lines.hpp"
#include "words.hpp"

namespace eyebrow {
namespace {

constexpr int kKey = 36, kPer = 10, kNumber = 10;

double step_of(const ToldEffect& of, const Format& format) {
  switch (of.per) {
    case ToldEffect::Per::length:
      return format.units == LengthUnit::inch ? 0.001 * kInch : 0.01;
    case ToldEffect::Per::angle:
      return kDegree;
    case ToldEffect::Per::share:
      break;
  }
  return std::fabs(of.value) / 100;
}

const char* step_text(const ToldEffect& of, const Format& format) {
  switch (of.per) {
    case ToldEffect::Per::length:
      return format.units == LengthUnit::inch ? "0.001 in" : "0.01 mm";
    case ToldEffect::Per::angle:
      return "1 deg";
    case ToldEffect::Per::share:
      break;
  }
  return "1 %";
}

/// A tenth of a thousandth of an inch, a micrometre: below that nothing is told.
class EffectTable {
 public:
  EffectTable(const Format& format) : format_(format), inch_(format.units == LengthUnit::inch) {}

  std::vector<std::string> numbers(const ToldEffect& of, const std::vector<std::size_t>& gaps) const {
    std::vector<std::string> out;
    for (const std::size_t gap : gaps) out.push_back(number(change(of, gap)));
    return out;
  }
  /// In parts of what is told last.
  double strength(const ToldEffect& of, const std::vector<std::size_t>& gaps) const {
    double most = 0;
    for (const std::size_t gap : gaps) most = std::fmax(most, std::fabs(change(of, gap)));
    return most / least();
  }

 private:
  double least() const { return inch_ ? 1e-5 * kInch : 1e-4; }
  double change(const ToldEffect& of, std::size_t gap) const { return slope(of.effect, gap) * step_of(of, format_); }
  std::string number(double mm) const {
    if (!std::isfinite(mm)) return "?";
    if (std::fabs(mm) < 0.5 * least()) return ".";
    return inch_ ? fmt::format("{:+.5f}", mm / kInch) : fmt::format("{:+.4f}", mm);
  }
  Format format_;
  bool inch_;
};

/// The strongest first; what moves nothing worth printing is left out.
InfluenceGroup group_of(const std::string& title, const std::vector<std::string>& columns,
                        const std::vector<std::size_t>& gaps, const std::vector<ToldEffect>& effects,
                        const EffectTable& table, const Format& format) {
  std::vector<const ToldEffect*> order;
  for (const ToldEffect& each : effects)
    if (table.strength(each, gaps) >= 0.5) order.push_back(&each);
  std::ranges::stable_sort(order, [&](const ToldEffect* a, const ToldEffect* b) {
    return table.strength(*a, gaps) > table.strength(*b, gaps);
  });
  InfluenceGroup out{title, columns, {}};
  for (const ToldEffect* each : order)
    out.rows.push_back({each->effect.key, step_text(*each, format), table.numbers(*each, gaps)});
  return out;
}

std::string group_text(const InfluenceGroup& group) {
  std::string out = '\n' + padded(group.title, kKey + 2) + fmt::format("{:>{}}", "for", kPer);
  for (const std::string& column : group.columns) out += fmt::format("{:>{}}", column, kNumber);
  out += '\n';
  for (const InfluenceGroup::Row& row : group.rows) {
    out += "  " + padded(row.key, kKey) + fmt::format("{:>{}}", row.per, kPer);
    for (const std::string& number : row.numbers) out += fmt::format("{:>{}}", number, kNumber);
    out += '\n';
  }
  return out;
}

}  // namespace

std::vector<InfluenceGroup> influence_groups(const std::vector<ToldEffect>& effects, const std::vector<MapGap>& gaps,
                                             const Format& format) {
  const EffectTable table(format);
  std::vector<InfluenceGroup> out;
  const auto add = [&](const std::string& title, const std::vector<std::string>& columns,
                       const std::vector<std::size_t>& own) {
    out.push_back(group_of(title, columns, own, effects, table, format));
    if (out.back().rows.empty()) out.pop_back();
  };
  std::vector<std::string> valves;
  for (const MapGap& gap : gaps) {
    const bool of_valve = gap.what == "travel" && !gap.running;
    if (of_valve) valves.push_back(gap.valve);
  }
  for (const std::string& valve : valves) {
    std::vector<std::string> columns;
    std::vector<std::size_t> own;
    for (std::size_t i = 0; i < gaps.size(); ++i) {
      if (gaps[i].valve != valve || gaps[i].running) continue;
      columns.push_back(gaps[i].what == "valve to bore" ? "bore" : gaps[i].what);
      own.push_back(i);
    }
    add("Valve " + printable(valve, 30), columns, own);
  }
  for (std::size_t i = 0; i < gaps.size(); ++i)
    if ((gaps[i].what == "valve to valve" || gaps[i].what == "piston to head") && !gaps[i].running)
      add(printable(gap_name(gaps[i]), kKey), {"gap"}, {i});
  return out;
}

std::string influence_meaning(const Format& format) {
  return fmt::format(
      "Influence on the least gaps, {}: what so much more of an input adds to each (negative: takes), the strongest "
      "first. By small moves both ways of this engine; . = nothing, ? = no such gap.",
      format.units == LengthUnit::inch ? "inches" : "mm");
}

std::string influence_text(const std::vector<ToldEffect>& effects, const std::vector<MapGap>& gaps,
                           const Format& format) {
  std::string out = wrapped("", influence_meaning(format), 0);
  for (const InfluenceGroup& group : influence_groups(effects, gaps, format)) out += group_text(group);
  return out;
}

std::string readings_text(const std::vector<ReadingError>& errors, const std::vector<MapGap>& gaps,
                          const Format& format) {
  const Lengths lengths(format);
  std::string out;
  for (std::size_t i = 0; i < gaps.size(); ++i) {
    if (lengths.plain(errors[i].plus_minus) == lengths.plain(0)) continue;
    out += wrapped("  " + padded(gap_name(gaps[i]), 32),
                   fmt::format("+- {} {}, most of it from {} ({})", lengths.required(errors[i].plus_minus),
                               lengths.unit(), printable(errors[i].most, 60), lengths.required(errors[i].most_by)),
                   34);
  }
  if (out.empty()) return out;
  return wrapped("",
                 "What the reading errors in the file leave open of each least gap (independent errors, root of the "
                 "sum of squares; not in the verdict)",
                 0) +
         out;
}

std::string effects_text(const EffectsTold& told, const Format& format) {
  std::string out;
  if (!told.errors.empty())
    if (const std::string text = readings_text(told.errors, told.gaps, format); !text.empty()) out += '\n' + text;
  if (!told.influence.empty()) out += '\n' + influence_text(told.influence, told.gaps, format);
  return out;
}

}  // namespace eyebrow
