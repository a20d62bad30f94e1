#include "spec/lobe.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "spec/lift_table.hpp"
#include "spec/nearest.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

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

/// What belongs to one way of telling the curve: of use with that alone.
struct Belongs {
  const char* key;
  std::vector<std::string> ways;
};
const std::vector<Belongs> kBelongs = {
    {"table_degrees", {"table"}},       {"table_angles", {"table"}}, {"lift_unit", {"table"}},
    {"reading_error", {"table"}},       {"law_duration", {"law"}},   {"ramp_lift", {"law"}},
    {"ramp_duration", {"card", "law"}}, {"lift_at_tdc", {"card"}},   {"tdc_advance", {"card"}},
    {"lift_measured", {"card"}},
};

/// The curve: a card (durations, events or both), or a table, or a law.
void read_curve(Context& context, Section& section, LobeAsRead& read) {
  std::vector<std::string> given;
  for (const char* key : {"durations", "events", "table", "law"})
    if (section.has(key)) given.push_back(key);
  for (const char* key : {"durations", "events", "table", "law"}) section.know(key);
  for (const Belongs& one : kBelongs) section.know(one.key);
  const bool card = section.has("durations") || section.has("events");
  const int ways = card + section.has("table") + section.has("law");
  if (ways != 1) {
    context.fault(section.place(), fmt::format("[{}] needs one of durations (or events), table, law; found {}",
                                               section.path(), given.empty() ? "none" : joined(given)));
    return;
  }
  const std::string way = card ? "card" : given.front();
  for (const Belongs& one : kBelongs) {
    if (!section.has(one.key) || std::find(one.ways.begin(), one.ways.end(), way) != one.ways.end()) continue;
    std::vector<std::string> with;
    for (const std::string& each : one.ways) with.push_back(each == "card" ? "durations or events" : each);
    context.fault(section.place(one.key),
                  fmt::format("{} is of use with {} only", section.key_path(one.key), joined(with, " or ")));
  }
  if (card) read.card = read_card(context, section, read.lobe);
  if (way == "table") read_table(context, section, read.lobe);
  if (way == "law") read_law(context, section, read.lobe);
}

void read_centre(Context& context, Section& section, LobeAsRead& read, bool centre_from_cam) {
  Lobe& lobe = read.lobe;
  const bool placed_by_table = lobe.table && !lobe.table->about_centre;
  if (placed_by_table && !centre_from_cam) {
    lobe.table->stated_centre = section.number("centre");  // only to be compared with the table's own
    return;
  }
  if (read.card && read.card->has_events()) {
    lobe.centre = section.number_or("centre", NAN);
    return;
  }
  if (!centre_from_cam) {
    // A table or events that could not be read may place the lobe by themselves: no second fault.
    const bool unread = (section.has("table") && !lobe.table) || section.has("events");
    lobe.centre = unread ? section.number_or("centre", NAN) : section.need("centre");
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

LobeAsRead read_lobe(Context& context, Section& section, bool centre_from_cam) {
  LobeAsRead read;
  Lobe& lobe = read.lobe;
  lobe.name = section.name();
  const Section::Choices<Role> roles = {{"intake", Role::intake}, {"exhaust", Role::exhaust}};
  const auto by_name = role_from_name(lobe.name);
  lobe.role = (by_name ? section.choice<Role>("role", roles) : section.need_choice<Role>("role", roles))
                  .value_or(by_name.value_or(Role::intake));
  lobe.measured = section.need_choice<LiftAt>("measured", {{"lobe", LiftAt::lobe}, {"valve", LiftAt::valve}})
                      .value_or(LiftAt::lobe);
  lobe.lift = section.has("table") ? section.number_or("lift", NAN) : section.need("lift");
  read_curve(context, section, read);
  read_centre(context, section, read, centre_from_cam);
  return read;
}

}  // namespace eyebrow
