#include "check_engines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <deque>

#include "interrupt.hpp"
#include "progress.hpp"

namespace eyebrow::cli {
namespace {

/// Builds parts, unless those of an engine before will do. Engines must outlive it.
class Workshop {
 public:
  explicit Workshop(const Origins& origins) : origins_(origins) {}
  const Parts& parts_of(const Engine& engine) {
    const auto built =
        std::find_if(built_.begin(), built_.end(), [&](const Built& each) { return same_parts(*each.of, engine); });
    if (built != built_.end()) return built->parts;
    return built_.emplace_back(Built{&engine, build_parts(engine, origins_)}).parts;
  }

 private:
  struct Built {
    const Engine* of;
    Parts parts;
  };
  const Origins& origins_;
  std::deque<Built> built_;  ///< whose items stay where they are
};

/// What one cylinder's check found wrong or doubtful.
struct Told {
  std::string cylinder;
  std::vector<Fault> faults;
};

bool tells(const Told& told, const Fault& fault) {
  return std::any_of(told.faults.begin(), told.faults.end(),
                     [&](const Fault& each) { return to_string(each) == to_string(fault); });
}

/// What all have, once; the rest with its cylinder's name.
std::vector<Fault> joined(const std::vector<Told>& told) {
  std::vector<Fault> out;
  for (const Told& one : told)
    for (const Fault& fault : one.faults) {
      const bool of_all = std::all_of(told.begin(), told.end(), [&](const Told& each) { return tells(each, fault); });
      if (of_all && &one != &told.front()) continue;
      out.push_back(fault);
      if (!of_all) out.back().message = fmt::format("cylinder \"{}\": {}", one.cylinder, fault.message);
    }
  return out;
}

}  // namespace

CylindersResult check_engines(const EngineFile& file, const CheckArguments& arguments, Warnings& warnings) {
  const std::vector<MeasuredCylinder> engines = file.checked();

  Progress progress("checking", arguments.quiet);
  const double count = static_cast<double>(engines.size());
  Workshop workshop(file.origins);
  CylindersResult out;
  std::vector<Told> faults, doubts;
  for (const MeasuredCylinder& cylinder : engines) {
    const double before = static_cast<double>(doubts.size());
    faults.push_back({cylinder.name, {}});
    doubts.push_back({cylinder.name, {}});
    CheckOptions options;
    options.step = arguments.step;
    options.drop_table = !arguments.csv.empty() || !arguments.json.empty();
    options.progress = [&](double share) { progress.show((before + share) / count); };
    options.stop = [] { return signal_seen() != 0; };
    try {
      const Parts& parts = workshop.parts_of(cylinder.engine);
      stop_if_asked();
      out.each.push_back(run_check(cylinder.engine, parts, options));
    } catch (const InputError& error) {
      faults.back().faults = place(error.faults(), file.origins);
      continue;
    }
    CheckResult& result = out.each.back();
    result.conditions.cylinder = cylinder.name;
    for (const Override& given : arguments.overrides)
      result.conditions.changed.push_back(given.key + "=" + given.value);
    doubts.back().faults = result.warnings = place(std::move(result.warnings), file.origins);
  }
  if (std::vector<Fault> wrong = joined(faults); !wrong.empty()) throw InputError(std::move(wrong));

  warnings.add(joined(doubts));
  out.worst = worst_of(out.each);
  out.each[out.worst].warnings = warnings.all();
  return out;
}

}  // namespace eyebrow::cli
