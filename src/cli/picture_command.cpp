// `picture`, in the program that draws.
#include <fmt/format.h>
#include <vtkCamera.h>
#include <vtkRenderWindow.h>
#include <vtkRenderer.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "check_engines.hpp"
#include "commands.hpp"
#include "eyebrow/check.hpp"
#include "eyebrow/map.hpp"
#include "eyebrow/report.hpp"
#include "film.hpp"
#include "interrupt.hpp"
#include "messages.hpp"
#include "named_leasts.hpp"
#include "output_file.hpp"
#include "progress.hpp"
#include "scene/gl_window.hpp"
#include "scene/nearest_gaps.hpp"
#include "scene/scene.hpp"
#include "scene/words.hpp"
#include "section_given.hpp"
#include "spec/nearest.hpp"

namespace eyebrow::cli {
namespace {

namespace fs = std::filesystem;
using scene::Look;
using scene::Scene;
using scene::View;

/// The engine fits into the picture from every side, not only from the first.
constexpr double kSpinZoom = 0.85;

/// One picture.
struct Shot {
  double crank = 0;
  double turn = 0;                 ///< of the eye around the bore axis
  const NamedLeast* of = nullptr;  ///< what it is taken for
};

/// "run.png" of one; "run-01.png", "run-02.png" ... of several.
std::string numbered(const std::string& output, std::size_t number, std::size_t count) {
  if (count == 1) return output;
  const fs::path path(output);
  const std::size_t digits = std::max<std::size_t>(2, std::to_string(count).size());
  const std::string name =
      fmt::format("{}-{:0{}}{}", path.stem().string(), number + 1, digits, path.extension().string());
  return (path.parent_path() / name).string();
}

std::size_t count_of(const PictureArguments& arguments) {
  if (!arguments.cycle.empty()) return arguments.cycle.size();
  if (arguments.spin > 0) return static_cast<std::size_t>(arguments.spin);
  return std::max<std::size_t>(1, arguments.at.size());
}

std::vector<Shot> shots_of(const PictureArguments& arguments, const CheckResult& check,
                           const std::vector<NamedLeast>& leasts) {
  const NamedLeast* const tightest = tightest_of(check, leasts);
  std::vector<PlaceInCycle> places = arguments.at;
  if (places.empty()) places.push_back({});
  std::vector<Shot> out;
  for (const PlaceInCycle& place : places) {
    Shot shot;
    if (!place.crank) shot.of = place.gap.empty() ? tightest : &named(leasts, place.gap);
    shot.crank = place.crank ? *place.crank : shot.of != nullptr ? shot.of->crank : 0;
    out.push_back(shot);
  }
  if (!arguments.cycle.empty()) {
    out.clear();
    for (const double crank : arguments.cycle) out.push_back({crank, 0, tightest});
  }
  for (int i = 1; i < arguments.spin; ++i) {
    out.push_back(out.front());
    out.back().turn = 2 * kPi * i / arguments.spin;
  }
  return out;
}

/// Refuses parts that there are not.
std::set<std::string> parts_named(const std::string& option, const std::vector<std::string>& given,
                                  const std::vector<std::string>& there) {
  for (const std::string& name : given)
    if (std::find(there.begin(), there.end(), name) == there.end())
      throw UsageError(fmt::format("{}: there is no part \"{}\"{}", option, name, there_are(name, there)));
  return {given.begin(), given.end()};
}

/// Throws UsageError.
Look look_asked(const PictureArguments& arguments, const Engine& engine) {
  Look look;
  look.format = {arguments.units.value_or(engine.units), arguments.digits};
  look.coloring = *scene::coloring_of(arguments.color);
  look.section = section_given(arguments.section, engine);
  std::vector<std::string> parts{"crown", "bore", "gasket"};
  for (const Valve& valve : engine.valves) parts.push_back("valve " + valve.name);
  look.hidden = parts_named("--hide", arguments.hidden, parts);
  look.transparent = parts_named("--transparent", arguments.transparent, parts);
  if (!arguments.lit.empty()) look.lit.clear();
  for (const scene::LitKind kind : scene::kLitKinds)
    if (std::ranges::find(arguments.lit, scene::kLitWords.at(static_cast<std::size_t>(kind))) != arguments.lit.end())
      look.lit.insert(kind);
  return look;
}

View view_asked(const PictureArguments& arguments) {
  if (!arguments.view.empty()) return *scene::view_of(arguments.view);
  return arguments.section.empty() ? View::best : View::square;
}

class Drawer {
 public:
  Drawer(const PictureArguments& arguments, scene::Shown shown, Look look, vtkSmartPointer<vtkRenderWindow> window)
      : arguments_(arguments), shown_(std::move(shown)), window_(std::move(window)), look_(std::move(look)) {
    window_->AddRenderer(scene_.renderer());
  }

  /// The bytes of a picture.
  std::string draw(const Shot& shot) {
    take_engine(shot.of);
    const bool run = !arguments_.cycle.empty() && shot.of != nullptr;
    const Look look = shot.of != nullptr && !run
                          ? with_focus(look_, *scene::lit_kind(shot.of->row->what), shot.of->valve, shot.of->other)
                          : look_;
    const bool stays = placed_ && (!arguments_.cycle.empty() || arguments_.spin > 0);
    if (!stays) {
      // In a run the eye stands where it sees the tightest place.
      scene_.place(run ? shot.of->crank : shot.crank);
      scene_.look(run ? with_focus(look, *scene::lit_kind(shot.of->row->what), shot.of->valve, shot.of->other) : look);
      scene_.view(view_asked(arguments_));
      if (arguments_.spin > 0) scene_.renderer()->GetActiveCamera()->Zoom(kSpinZoom);
      placed_ = true;
    }
    scene_.place(shot.crank);
    scene_.look(look);
    scene_.turn(shot.turn - turned_);
    turned_ = shot.turn;
    return scene::png_of(window_);
  }

  void set_least(std::shared_ptr<const scene::NearestGaps> least) {
    least_ = std::move(least);
    scene_.set_least(least_);
  }

 private:
  void take_engine(const NamedLeast* of) {
    const std::shared_ptr<const Engine> engine = engine_at(shown_.engine, arguments_.cycle.empty() ? of : nullptr);
    if (scene_has_ == engine) return;
    scene_has_ = engine;
    scene_.show({engine, shown_.parts, shown_.check});
    scene_.set_least(least_);
  }

  const PictureArguments& arguments_;
  scene::Shown shown_;
  std::shared_ptr<const Engine> scene_has_;
  std::shared_ptr<const scene::NearestGaps> least_;
  Scene scene_;
  vtkSmartPointer<vtkRenderWindow> window_;  // goes before the scene that it draws
  Look look_;
  bool placed_ = false;
  double turned_ = 0;
};

}  // namespace

int run(const PictureArguments& arguments) {
  const bool moves = is_film(arguments.output);
  std::vector<std::string> names;
  for (std::size_t i = 0; i < (moves ? 1 : count_of(arguments)); ++i)
    names.push_back(moves ? arguments.output : numbered(arguments.output, i, count_of(arguments)));
  std::vector<OutputFile> files = output_files(arguments.engine, names);
  std::optional<Film> film;
  if (moves) film.emplace(arguments.output);

  // Before the work: there may be nothing to draw with.
  vtkSmartPointer<vtkRenderWindow> window = scene::off_screen_window(2 * arguments.width, 2 * arguments.height);

  Warnings warnings(arguments.engine);
  EngineFile file = read_engine(arguments.engine, arguments.overrides);
  warnings.add(file.warnings);
  if (!file.cylinders.empty())
    warnings.add(
        {{"", 0, 0,
          "the pictures have the file's own numbers; what [each_cylinder] lists for single cylinders is not in "
          "them"}});
  file.cylinders.clear();
  const Look look = look_asked(arguments, file.engine);
  require_gaps(arguments.at, file.engine);
  stop_if_asked();

  scene::Shown shown;
  shown.engine = std::make_shared<const Engine>(file.engine);
  shown.parts = std::make_shared<const Parts>(build_parts(file.engine, file.origins));
  warnings.add(shown.parts->warnings);
  {
    Progress progress("checking", arguments.quiet);
    CheckOptions options;
    options.progress = [&](double share) { progress.show(share); };
    options.stop = [] { return signal_seen() != 0; };
    CheckResult check = with_places(file.origins, [&] { return run_check(*shown.engine, *shown.parts, options); });
    for (const Override& given : arguments.overrides) check.conditions.changed.push_back(given.key + "=" + given.value);
    warnings.add(place(check.warnings, file.origins));
    shown.check = std::make_shared<const CheckResult>(std::move(check));
  }
  const std::vector<NamedLeast> leasts = leasts_of(*shown.check);
  const std::vector<Shot> shots = shots_of(arguments, *shown.check, leasts);

  Drawer drawer(arguments, shown, look, std::move(window));
  if (arguments.color == "least") {
    Progress progress("finding the least at each place of the crown", arguments.quiet);
    drawer.set_least(scene::nearest_over_cycle(
        shown, [&](double share) { progress.show(share); }, [] { return signal_seen() != 0; }));
    stop_if_asked();
  }
  {
    Progress progress("drawing", arguments.quiet);
    for (std::size_t i = 0; i < shots.size(); ++i) {
      const std::string picture = drawer.draw(shots[i]);
      if (film)
        film->add(picture);
      else
        files[i].stage(picture);
      stop_if_asked();
      progress.show(static_cast<double>(i + 1) / static_cast<double>(shots.size()));
    }
  }
  if (film) {
    film->finish();
    if (!arguments.quiet) print(fmt::format("{}: {} pictures\n", arguments.output, shots.size()));
    return kHolds;
  }
  for (OutputFile& each : files) each.commit();
  if (!arguments.quiet)
    for (std::size_t i = 0; i < shots.size(); ++i)
      print(fmt::format("{}: {}{}\n", names[i],
                        shots[i].of != nullptr && arguments.cycle.empty() ? shots[i].of->name + " at " : "",
                        crank_text(shots[i].crank)));
  return kHolds;
}

}  // namespace eyebrow::cli
