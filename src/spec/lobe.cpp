#include "spec/lobe.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "spec/lift_table.hpp"
#include "spec/nearest.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

constexpr std::size_t kLeastDurations = 2, kMostDurations = 5;
/// A lift stated beside a table may differ from the table's greatest by this much: reading error.
constexpr double kTableLiftAgreement = 0.1;

const Section::Choices<CamLaw> kLaws = {
    {"harmonic", CamLaw::harmonic},
    {"cycloidal", CamLaw::cycloidal},
    {"3-4-5", CamLaw::poly345},
    {"4-5-6-7", CamLaw::poly4567},
    {"modified sine", CamLaw::modified_sine},
    {"modified trapezoid", CamLaw::modified_trapezoid},
};

void read_durations(Context& context, Section& section, Lobe& lobe) {
  struct Row {
    Duration duration;
    std::string path;
  };
  std::vector<Row> rows;
  std::vector<Section> items = section.list("durations");
  for (Section& item : items) {
    rows.push_back({{item.need("at"), item.need("duration")}, item.path()});
    item.finish();
  }
  if (rows.size() < kLeastDurations || rows.size() > kMostDurations) {
    context.fault(section.place("durations"),
                  fmt::format("{} has {} {}; allowed are {} to {}", section.key_path("durations"), rows.size(),
                              rows.size() == 1 ? "item" : "items", kLeastDurations, kMostDurations));
    return;
  }
  const bool whole = std::all_of(rows.begin(), rows.end(), [](const Row& row) {
    return std::isfinite(row.duration.lift) && std::isfinite(row.duration.duration);
  });
  if (!whole) return;
  std::stable_sort(rows.begin(), rows.end(),
                   [](const Row& a, const Row& b) { return a.duration.lift < b.duration.lift; });
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Duration& now = rows[i].duration;
    if (now.lift >= lobe.lift)
      context.fault(context.place_of(rows[i].path + ".at"),
                    fmt::format("{}.at is {}; a checking lift must be below the lobe's greatest lift, {}", rows[i].path,
                                context.length_text(now.lift), context.length_text(lobe.lift)));
    if (i == 0) continue;
    const Duration& below = rows[i - 1].duration;
    if (now.lift == below.lift) {
      context.fault(context.place_of(rows[i].path + ".at"),
                    fmt::format("{}.at: {} is stated twice", rows[i].path, context.length_text(now.lift)));
    } else if (now.duration >= below.duration) {
      context.fault(context.place_of(rows[i].path + ".duration"),
                    fmt::format("{}.duration is {:.6g} deg at {}; it must be less than the {:.6g} deg at {}: durations "
                                "fall as lifts rise",
                                rows[i].path, now.duration / kDegree, context.length_text(now.lift),
                                below.duration / kDegree, context.length_text(below.lift)));
    }
  }
  for (const Row& row : rows) lobe.durations.push_back(row.duration);
}

void read_table(Context& context, Section& section, Lobe& lobe) {
  LiftTableFormat format;
  const auto name = section.word("table");
  const auto degrees = section.need_choice<double>("table_degrees", {{"cam", 2}, {"crank", 1}});
  const auto about_centre = section.need_choice<bool>("table_angles", {{"from centre", true}, {"crank angle", false}});
  const auto lift_unit = section.choice<LengthUnit>("lift_unit", {{"mm", LengthUnit::mm}, {"in", LengthUnit::inch}});
  if (!section.has("lift_unit") && !context.units && !context.units_faulty)
    context.fault(section.place(),
                  fmt::format("missing key \"lift_unit\" in [{}]: the file states no default unit; one "
                              "of \"mm\", \"in\"",
                              section.path()));
  if (degrees == 2.0 && about_centre == false)
    context.fault(
        section.place("table_degrees"),
        "a table in crank angles is in crank degrees: table_degrees = \"crank\", or table_angles = \"from centre\"");
  const auto reading_error = section.number("reading_error");
  if (!name || !degrees || !about_centre || (!lift_unit && !context.units)) return;
  format.crank_per_degree = *degrees;
  format.about_centre = *about_centre;
  format.reading_error = reading_error;
  format.lift_factor = factor(unit_of(lift_unit ? *lift_unit : *context.units));
  const auto folder = std::filesystem::path(context.file).parent_path();
  auto table = read_lift_table(context, (folder / *name).string(), section.place("table"), format);
  if (!table) return;
  const double greatest = *std::max_element(table->lift.begin(), table->lift.end());
  const Unit unit = unit_of(context.units.value_or(LengthUnit::mm));
  if (const auto trouble = limit_trouble(limit_of("lobe.*.lift"), greatest, unit); !trouble.empty())
    context.fault(section.place("table"), fmt::format("the greatest lift of the table {}", trouble));
  if (!section.has("lift")) lobe.lift = greatest;
  if (std::fabs(lobe.lift - greatest) > kTableLiftAgreement)
    context.fault(section.place("lift"), fmt::format("lift is {}, but the table's greatest is {}: leave lift out, or "
                                                     "correct the table's unit",
                                                     context.length_text(lobe.lift), context.length_text(greatest)));
  lobe.table = std::move(table);
}

void read_law(Context& context, Section& section, Lobe& lobe) {
  lobe.law = section.choice<CamLaw>("law", kLaws);
  lobe.law_duration = section.need("law_duration");
  lobe.ramp_lift = section.number_or("ramp_lift", 0);
  lobe.ramp_duration = section.number_or("ramp_duration", 0);
  if (!section.has("ramp_lift") && !section.has("ramp_duration")) return;
  const std::string lift = section.key_path("ramp_lift"), duration = section.key_path("ramp_duration");
  if (section.has("ramp_lift") != section.has("ramp_duration"))
    context.fault(section.place(section.has("ramp_lift") ? "ramp_lift" : "ramp_duration"),
                  fmt::format("{} is given without {}: a ramp has both", section.has("ramp_lift") ? lift : duration,
                              section.has("ramp_lift") ? duration : lift));
  if (lobe.ramp_lift >= lobe.lift)
    context.fault(section.place("ramp_lift"),
                  fmt::format("{} is {}; it must be below the lobe's greatest lift, {}", lift,
                              context.length_text(lobe.ramp_lift), context.length_text(lobe.lift)));
}

/// The curve: exactly one of durations, table and law.
void read_curve(Context& context, Section& section, Lobe& lobe) {
  std::vector<std::string> given;
  for (const char* way : {"durations", "table", "law"})
    if (section.has(way)) given.push_back(way);
  for (const char* key : {"durations", "table", "table_degrees", "table_angles", "lift_unit", "reading_error", "law",
                          "law_duration", "ramp_lift", "ramp_duration"})
    section.know(key);
  if (given.size() != 1) {
    context.fault(section.place(), fmt::format("[{}] needs one of durations, table, law; found {}", section.path(),
                                               given.empty() ? "none" : joined(given)));
    return;
  }
  const auto misplaced = [&](const char* key, const char* belongs) {
    if (given.front() != belongs && section.has(key))
      context.fault(section.place(key), fmt::format("{} is of use with {} only", section.key_path(key), belongs));
  };
  for (const char* key : {"table_degrees", "table_angles", "lift_unit", "reading_error"}) misplaced(key, "table");
  for (const char* key : {"law_duration", "ramp_lift", "ramp_duration"}) misplaced(key, "law");
  if (given.front() == "durations") read_durations(context, section, lobe);
  if (given.front() == "table") read_table(context, section, lobe);
  if (given.front() == "law") read_law(context, section, lobe);
}

void read_centre(Context& context, Section& section, Lobe& lobe, bool centre_from_cam) {
  const bool placed_by_table = lobe.table && !lobe.table->about_centre;
  if (placed_by_table && !centre_from_cam) {
    lobe.table->stated_centre = section.number("centre");  // only to be compared with the table's own
    return;
  }
  if (!centre_from_cam) {
    // A table that could not be read may place the lobe by itself: no second fault.
    lobe.centre = section.has("table") && !lobe.table ? section.number_or("centre", NAN) : section.need("centre");
    return;
  }
  section.know("centre");
  if (section.has("centre"))
    context.fault(
        section.place("centre"),
        fmt::format("{} is given, but the separation of its cam places the lobe already: leave one of the two "
                    "out",
                    section.key_path("centre")));
}

}  // namespace

Lobe read_lobe(Context& context, Section& section, bool centre_from_cam) {
  Lobe lobe;
  lobe.name = section.name();
  const Section::Choices<Role> roles = {{"intake", Role::intake}, {"exhaust", Role::exhaust}};
  const auto by_name = role_from_name(lobe.name);
  lobe.role = (by_name ? section.choice<Role>("role", roles) : section.need_choice<Role>("role", roles))
                  .value_or(by_name.value_or(Role::intake));
  lobe.measured = section.need_choice<LiftAt>("measured", {{"lobe", LiftAt::lobe}, {"valve", LiftAt::valve}})
                      .value_or(LiftAt::lobe);
  lobe.lift = section.has("table") ? section.number_or("lift", NAN) : section.need("lift");
  read_curve(context, section, lobe);
  read_centre(context, section, lobe, centre_from_cam);
  return lobe;
}

}  // namespace eyebrow
