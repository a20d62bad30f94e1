#include <fmt/format.h>

#include <algorithm>

#include "commands.hpp"
#include "eyebrow/map_report.hpp"
#include "eyebrow/plot.hpp"
#include "gap_names.hpp"
#include "interrupt.hpp"
#include "messages.hpp"
#include "output_file.hpp"
#include "progress.hpp"
#include "spec/units.hpp"
#include "vary.hpp"

namespace eyebrow::cli {
namespace {

std::vector<Override> with_values(std::vector<Override> overrides, const std::vector<Varied>& inputs,
                                  const std::vector<double>& values) {
  for (std::size_t i = 0; i < inputs.size(); ++i) overrides.push_back({inputs[i].key, set_text(inputs[i], values[i])});
  return overrides;
}

/// Numbers that were typed without a unit have the one that the file gives them.
void find_units(const EngineText& text, const MapArguments& arguments, std::vector<Varied>& inputs) {
  for (Varied& input : inputs) {
    if (!input.unit.empty()) continue;
    for (const double value : input.values) try {
        const EngineFile file = text.read(with_values(arguments.overrides, {input}, {value}));
        if (const auto origin = file.origins.find(input.key); origin != file.origins.end())
          input.unit = origin->second.unit;
        break;
      } catch (const InputError&) {
        continue;  // out of range, and told with its cell
      }
  }
}

double in_unit(double inner, const std::string& unit) {
  const auto known = unit_from_word(unit);
  return inner / (known ? factor(*known) : 1);
}

/// One slip in a key or unit leaves no cell an engine: it is a fault then.
void require_some_engine(const MapResult& map, const EngineAt& engine_at) {
  if (std::ranges::any_of(map.cells, &MapCell::possible)) return;
  std::vector<double> first;
  for (const Varied& input : map.inputs) first.push_back(input.values.front());
  engine_at(first);
  throw InputError({{"", 0, 0, map.cells.front().trouble}});
}

}  // namespace

int run(const MapArguments& arguments) {
  std::vector<OutputFile> files = output_files(arguments.engine, {arguments.csv, arguments.json, arguments.plot});

  Warnings warnings(arguments.engine);
  const EngineText text = EngineText::of_file(arguments.engine);
  const EngineFile file = text.read(arguments.overrides);
  warnings.add(file.warnings);
  warn_of_tolerances(file, warnings);
  if (!file.cylinders.empty())
    warnings.add(
        {{"", 0, 0,
          "the map has the file's own numbers; what [each_cylinder] lists for single cylinders is not in it"}});
  stop_if_asked();

  std::vector<Varied> inputs = arguments.inputs;
  find_units(text, arguments, inputs);
  for (Varied& input : inputs)
    if (const auto origin = file.origins.find(input.key); origin != file.origins.end())
      input.now = in_unit(origin->second.value, input.unit);
  const EngineAt engine_at = [&](const std::vector<double>& values) {
    return text.engine(with_values(arguments.overrides, inputs, values));
  };
  const std::vector<std::size_t> chosen = chosen_gaps(map_gaps(file.engine), arguments.gaps);

  Progress progress("mapping", arguments.quiet);
  CheckOptions options;
  options.progress = [&](double share) { progress.show(share); };
  options.stop = [] { return signal_seen() != 0; };
  const Mapper mapper = with_places(file.origins, [&] { return Mapper(file.engine); });
  MapResult map = mapper.map(inputs, engine_at, options);
  require_some_engine(map, engine_at);
  for (const Override& given : arguments.overrides) map.changed.push_back(given.key + "=" + given.value);
  if (arguments.allowed) map.allowed = mapper.allowed(map, engine_at, options);

  const Format format{arguments.units.value_or(map.units), arguments.digits};
  const std::string csv = arguments.csv.empty() ? "" : map_csv(map, format);
  const std::string json = arguments.json.empty() ? "" : map_json(map);
  const std::string plot = arguments.plot.empty() ? "" : plot_map(map, chosen, *plot_file(arguments.plot), format);
  for (OutputFile& out : files)
    out.stage(out.path() == arguments.csv ? csv : out.path() == arguments.json ? json : plot);
  stop_if_asked();
  for (OutputFile& out : files) out.commit();

  if (arguments.csv == "-")
    print(csv);
  else if (arguments.json == "-")
    print(json);
  else if (!arguments.quiet)
    print(arguments.allowed ? allowed_text(map) : map_text(map, format, chosen));
  return kHolds;
}

}  // namespace eyebrow::cli
