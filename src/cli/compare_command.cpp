#include <fmt/format.h>

#include <algorithm>
#include <deque>

#include "commands.hpp"
#include "eyebrow/compare_report.hpp"
#include "eyebrow/plot.hpp"
#include "interrupt.hpp"
#include "messages.hpp"
#include "output_file.hpp"
#include "progress.hpp"
#include "remedies_told.hpp"
#include "spec/nearest.hpp"

namespace eyebrow::cli {
namespace {

/// What is wrong in the engine files, of all of them at once.
class FaultsOfAll {
 public:
  explicit FaultsOfAll(const std::vector<std::string>& files) : files_(files) {}

  /// Runs the work on each file; false where some file has a fault.
  template <class Work>
  void each(const Work& work) {
    std::vector<std::vector<Fault>> found(files_.size());
    bool any = false;
    for (std::size_t i = 0; i < files_.size(); ++i) try {
        work(i);
      } catch (const InputError& error) {
        found[i] = error.faults();
        any = true;
      }
    if (any) throw InputError(joined(found));
  }

 private:
  static bool tells(const std::vector<Fault>& faults, const Fault& fault) {
    return std::ranges::any_of(faults, [&](const Fault& each) { return to_string(each) == to_string(fault); });
  }

  /// What is wrong with a --set for all files is told once, for some files with their names.
  std::vector<Fault> joined(const std::vector<std::vector<Fault>>& found) const {
    std::vector<Fault> out;
    for (std::size_t i = 0; i < found.size(); ++i)
      for (Fault fault : found[i]) {
        if (fault.file.empty()) fault.file = files_[i];
        if (fault.file == "--set") {
          if (std::ranges::all_of(found, [&](const auto& faults) { return tells(faults, fault); })) {
            if (i == 0) out.push_back(fault);
            continue;
          }
          fault.message += " (in " + files_[i] + ")";
        }
        if (!tells(out, fault)) out.push_back(std::move(fault));
      }
    return out;
  }

  const std::vector<std::string>& files_;
};

void require_valves(const std::vector<std::string>& chosen, const std::deque<EngineFile>& files) {
  std::vector<std::string> known;
  for (const EngineFile& file : files)
    for (const Valve& valve : file.engine.valves)
      if (std::ranges::find(known, valve.name) == known.end()) known.push_back(valve.name);
  for (const std::string& name : chosen)
    if (std::ranges::find(known, name) == known.end())
      throw UsageError(fmt::format("--valve: no engine has a valve \"{}\"{}", name, did_you_mean(name, known)));
}

}  // namespace

int run(const CompareArguments& arguments) {
  std::vector<OutputFile> outputs;
  for (const std::string& path : {arguments.json, arguments.plot}) {
    if (path.empty() || path == "-") continue;
    for (const std::string& engine : arguments.engines) keep_apart(engine, path);
    outputs.emplace_back(path);
  }

  const std::size_t count = arguments.engines.size();
  FaultsOfAll faults(arguments.engines);
  std::vector<EngineText> sources;
  std::deque<EngineFile> files;
  std::deque<Warnings> warnings;
  faults.each([&](std::size_t i) {
    sources.push_back(EngineText::of_file(arguments.engines[i]));
    files.emplace_back();
    files.back() = sources.back().read(arguments.overrides);
  });
  require_valves(arguments.valves, files);
  for (std::size_t i = 0; i < count; ++i) {
    Warnings& own = warnings.emplace_back(arguments.engines[i]);
    own.add(files[i].warnings);
    warn_of_tolerances(files[i], own);
    if (!files[i].cylinders.empty())
      own.add({{"", 0, 0,
                "the file's own numbers are compared; what [each_cylinder] lists for single cylinders has no part"}});
  }
  stop_if_asked();

  Comparison comparison;
  comparison.files = arguments.engines;
  Progress progress("comparing", arguments.quiet);
  std::deque<Parts> parts;
  faults.each([&](std::size_t i) {
    const EngineFile& file = files[i];
    with_places(file.origins, [&] {
      parts.push_back(i == 0 || parts.empty() ? build_parts(file.engine, file.origins)
                                              : rebuild_parts(file.engine, file.origins, files[0].engine, parts[0]));
      stop_if_asked();
      CheckOptions options;
      options.progress = [&](double share) {
        progress.show((static_cast<double>(i) + share) / static_cast<double>(count));
      };
      options.stop = [] { return signal_seen() != 0; };
      comparison.checks.push_back(run_check(file.engine, parts.back(), options));
      return 0;
    });
    CheckResult& check = comparison.checks.back();
    for (const Override& given : arguments.overrides) check.conditions.changed.push_back(given.key + "=" + given.value);
    warnings[i].add(place(std::move(check.warnings), file.origins));
    check.warnings = warnings[i].all();
  });
  const bool told = !arguments.json.empty() || !arguments.quiet;
  for (std::size_t i = 0; told && !arguments.no_remedies && i < count; ++i)
    if (comparison.checks[i].verdict != Verdict::holds)
      comparison.checks[i].remedies =
          find_remedies(sources[i], {"", files[i].engine, files[i].origins}, arguments.overrides,
                        fmt::format("looking for remedies of {}", i + 1), arguments.quiet);

  std::vector<const EngineFile*> pointers;
  std::vector<const Engine*> engines;
  for (const EngineFile& file : files) {
    pointers.push_back(&file);
    engines.push_back(&file.engine);
  }
  comparison.gaps = gaps_beside(comparison.checks);
  comparison.inputs = differing_inputs(pointers);
  comparison.lifts = lift_differences(engines);
  comparison.landings = landings(engines);

  const Format format{arguments.units.value_or(files.front().engine.units), arguments.digits};
  const std::string json = arguments.json.empty() ? "" : compare_json(comparison);
  const std::string plot = arguments.plot.empty()
                               ? ""
                               : plot_compare(comparison.checks, arguments.valves, *plot_file(arguments.plot), format);
  for (OutputFile& out : outputs) out.stage(out.path() == arguments.json ? json : plot);
  stop_if_asked();
  for (OutputFile& out : outputs) out.commit();
  if (arguments.json == "-")
    print(json);
  else if (!arguments.quiet)
    print(compare_text(comparison, format));
  return comparison.verdict() == Verdict::holds ? kHolds : kShort;
}

}  // namespace eyebrow::cli
