#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>

#include "commands.hpp"
#include "eyebrow/edit.hpp"
#include "eyebrow/pocket_report.hpp"
#include "interrupt.hpp"
#include "messages.hpp"
#include "output_file.hpp"
#include "progress.hpp"
#include "tolerances_given.hpp"

namespace eyebrow::cli {
namespace {

/// A number that stands in a fixed file reads back to this.
constexpr double kReadsBack = 1e-9;

std::string text_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  if (!in) throw MachineError(fmt::format("{}: cannot be read any more", path));
  return out.str();
}

/// The engine file with the pockets in it, and with what --set replaced; checked by reading it back.
std::string fixed_file(const PocketArguments& arguments, const PocketResult& result,
                       const std::vector<Tolerance>& tolerances) {
  std::string text = text_of(arguments.engine);
  for (const Override& given : arguments.overrides) text = edited_text(text, given.key, given.value);
  std::vector<std::string> stated;
  bool bare = false;
  for (const TextEntry& entry : text_entries(text, arguments.engine)) {
    stated.push_back(entry.key);
    bare = bare || entry.key == "units";
  }
  for (const PocketEdit& edit : pocket_edits(result, stated, bare)) {
    if (edit.typed.empty() && std::ranges::find(tolerances, edit.key, &Tolerance::key) != tolerances.end())
      throw UsageError(fmt::format(
          "--fix: a diameter takes the place of {}, which [tolerance] names; state the pocket's diameter and its "
          "tolerance",
          edit.key));
    text = edit.typed.empty() ? text_without(text, edit.key) : edited_text(text, edit.key, edit.typed);
  }
  const Engine back = parse_engine(text, arguments.engine).engine;
  const auto same = [](const Pocket& a, const Pocket& b) {
    return a.name == b.name && std::fabs(a.x - b.x) + std::fabs(a.y - b.y) + std::fabs(a.diameter - b.diameter) +
                                       std::fabs(a.depth - b.depth) + std::fabs(a.tilt - b.tilt) +
                                       std::fabs(a.corner_radius - b.corner_radius) <
                                   kReadsBack;
  };
  for (const SizedPocket& one : result.pockets)
    if (one.changed &&
        !std::ranges::any_of(back.piston.pockets, [&](const Pocket& pocket) { return same(pocket, one.pocket); }))
      throw MachineError(fmt::format(
          "pocket \"{}\": its numbers do not stay as they are in the file that would be written; write them by hand",
          one.pocket.name));
  return text;
}

bool cuts_deeper(const PocketResult& result) {
  return std::ranges::any_of(result.pockets, [](const SizedPocket& one) { return one.changed; });
}

std::string not_known(const PocketResult& result) {
  std::string keys;
  for (const MetalLeft& left : result.left)
    if (left.state == MetalLeft::State::not_known && keys.find(left.missing) == std::string::npos)
      keys += (keys.empty() ? "" : ", ") + left.missing;
  return keys;
}

}  // namespace

int run(const PocketArguments& arguments) {
  std::vector<OutputFile> files = output_files(arguments.engine, {arguments.json, arguments.fix, arguments.sheet});

  Warnings warnings(arguments.engine);
  const EngineText text = EngineText::of_file(arguments.engine);
  const EngineFile file = text.read(arguments.overrides);
  warnings.add(file.warnings);
  const bool within = arguments.worst_case || arguments.share;
  if (within)
    require_tolerances(file, arguments.share ? "--share" : "--worst-case");
  else
    warn_of_tolerances(file, warnings);
  if (!file.cylinders.empty())
    warnings.add(
        {{"", 0, 0, "sized for the file's own numbers; what [each_cylinder] lists for single cylinders has no part"}});
  stop_if_asked();

  PocketResult result;
  {
    Progress progress("sizing pockets", arguments.quiet);
    CheckOptions options;
    options.progress = [&](double share) { progress.show(share); };
    options.stop = [] { return signal_seen() != 0; };
    const EngineBy engine_by = engine_by_tolerances(text, file, arguments.overrides);
    result = with_places(file.origins, [&] {
      return within ? size_pockets(file.engine, arguments.wish, {file.tolerances, engine_by, arguments.share}, options)
                    : size_pockets(file.engine, arguments.wish, options);
    });
  }
  for (const Override& given : arguments.overrides) result.changed.push_back(given.key + "=" + given.value);

  for (const Tolerance& of : file.tolerances)
    if (of.key.starts_with("pocket.")) result.tolerance[of.key] = of.worst();

  std::string json, fix, sheet;
  const Format format{arguments.units.value_or(result.units), arguments.digits};
  if (!arguments.json.empty()) json = pocket_json(result);
  if (!arguments.sheet.empty()) sheet = pocket_sheet(result, *plot_file(arguments.sheet), format);
  if (!arguments.fix.empty()) {
    const std::string unknown = not_known(result);
    if (!unknown.empty() && cuts_deeper(result) && !arguments.crown_not_known)
      throw UsageError(fmt::format(
          "--fix: crown left is NOT KNOWN ({} not stated): measure it, or add --crown-not-known to write the file all "
          "the same",
          unknown));
    if (result.fits()) {
      fix = fixed_file(arguments, result, file.tolerances);
    } else {
      warnings.add({{"", 0, 0, fmt::format("--fix: no pocket fits what is asked: {} is not written", arguments.fix)}});
    }
  }
  const auto made = [&](const OutputFile& out) { return out.path() != arguments.fix || !fix.empty(); };
  for (OutputFile& out : files)
    if (made(out)) out.stage(out.path() == arguments.json ? json : out.path() == arguments.fix ? fix : sheet);
  stop_if_asked();
  for (OutputFile& out : files)
    if (made(out)) out.commit();
  if (arguments.json == "-")
    print(json);
  else if (!arguments.quiet)
    print(pocket_text(result, format));
  return result.fits() ? kHolds : kShort;
}

}  // namespace eyebrow::cli
