#include "scene/scene.hpp"

#include <fmt/format.h>
#include <vtkActor.h>
#include <vtkCallbackCommand.h>
#include <vtkCamera.h>
#include <vtkCellPicker.h>
#include <vtkLight.h>
#include <vtkNew.h>
#include <vtkRenderWindow.h>
#include <vtkRenderer.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "eyebrow/shown_solids.hpp"
#include "report/words.hpp"
#include "scene/around_bore.hpp"
#include "scene/crown_distances.hpp"
#include "scene/eye.hpp"
#include "scene/lit_gaps.hpp"
#include "scene/nearest_gaps.hpp"
#include "scene/part_view.hpp"
#include "scene/section_dimensions.hpp"
#include "scene/sight.hpp"
#include "scene/written.hpp"
#include "study/clock.hpp"

namespace eyebrow::scene {
namespace {

constexpr double kValveDeflection = 0.01;  // mm; of what is looked at
constexpr double kStemShown = 0.95;        // head diameters above the rim plane
constexpr double kBelowPiston = 3;         // mm of bore wall that is drawn below the crown's underside
constexpr double kTransparent = 0.3, kSeenThrough = 0.4;
constexpr double kNear = 0.16;  // of a head's diameter around the gap, in View::near
constexpr double kMarginAround = 1.04;
constexpr double kHidden = 0.3;      // mm of metal that a lit point may lie behind
constexpr double kInSection = 0.05;  // mm that a gap's points may lie off the section they are drawn in

bool is_any(const Face&) {
  return true;
}

double least_z(const Crown& solid) {
  double z = 0;
  for (const Vec3 p : solid.points) z = std::min(z, p.z);
  return z;
}

Color metal_of(Role role) {
  return role == Role::intake ? kIntakeMetal : kExhaustMetal;
}

std::string valve_part(const Valve& valve) {
  return "valve " + valve.name;
}

/// A light that goes with the eye.
void add_light(vtkRenderer* renderer, double x, double y, double z, double strength) {
  vtkNew<vtkLight> light;
  light->SetLightTypeToCameraLight();
  light->SetPosition(x, y, z);
  light->SetFocalPoint(0, 0, 0);
  light->SetIntensity(strength);
  renderer->AddLight(light);
}

}  // namespace

struct Scene::Inner {
  Inner();
  ~Inner() { renderer->RemoveObserver(before_rendering); }

  void take(const Shown& with);
  void update();
  void make_pairs();
  void update_overlaps(const Placing& placing);
  std::optional<Vec3> place_in_focus() const;
  void update_section();
  void update_colors();
  void update_words();
  void update_opacity();
  bool hides_lit(const PartView& view) const;
  std::string section_words() const;
  Vec3 direction(View view) const;
  void look_from(View view);
  std::optional<Plane> cut() const;
  std::vector<Vec3> outside() const;
  const LitGap* focus() const;
  Obstacles obstacles() const;
  void for_all(const std::function<void(PartView&)>& work);

  vtkNew<vtkRenderer> renderer;
  vtkNew<vtkCallbackCommand> before_rendering;
  Written words;
  Shown shown;
  Look look;
  std::string veil;
  double crank = 0;
  std::unique_ptr<study::Setup> setup;
  std::unique_ptr<const Crown> crown;  ///< fine enough to be coloured; null until it is
  std::unique_ptr<PartView> crown_view, bore_view, gasket_view;
  std::vector<std::unique_ptr<PartView>> valve_views, overlap_views;  ///< overlaps: one a valve, null = none
  std::vector<bool> overlaps;                                         ///< of each valve at this crank angle
  std::unique_ptr<CrownDistances> distances;
  std::shared_ptr<const NearestGaps> least;
  std::optional<ValveSection> section;
  std::vector<std::shared_ptr<const Target>> surfaces;  ///< of the valves that are a pair's second; empty: not yet made
  std::vector<study::ValvePair> pairs;
  study::GapsNow gaps;
  std::vector<LitGap> lit;
  std::vector<SectionDimension> dimensions;
};

Scene::Inner::Inner() : words(renderer) {
  renderer->SetBackground(kPaper.red, kPaper.green, kPaper.blue);
  renderer->AutomaticLightCreationOff();
  add_light(renderer, -0.5, 0.9, 0.9, 0.95);
  add_light(renderer, 0.8, 0.0, 0.8, 0.5);
  add_light(renderer, 0, -1, 0.15, 0.3);
  renderer->SetMaximumNumberOfPeels(4);
  renderer->SetOcclusionRatio(0);
  renderer->GetActiveCamera()->ParallelProjectionOn();
  // The camera may have been turned, or the window pulled: labels belong to pixels.
  before_rendering->SetClientData(this);
  before_rendering->SetCallback(
      [](vtkObject*, unsigned long, void* self, void*) { static_cast<Inner*>(self)->update_words(); });
  renderer->AddObserver(vtkCommand::StartEvent, before_rendering);
}

void Scene::Inner::for_all(const std::function<void(PartView&)>& work) {
  for (auto* const one : {&crown_view, &bore_view, &gasket_view})
    if (*one) work(**one);
  for (auto* const many : {&valve_views, &overlap_views})
    for (const auto& each : *many)
      if (each) work(*each);
}

void Scene::Inner::take(const Shown& with) {
  auto fresh = setup ? std::make_unique<study::Setup>(*setup, *with.engine, *with.parts)
                     : std::make_unique<study::Setup>(*with.engine, *with.parts);
  if (setup && with.parts == shown.parts) {
    // The same solids, moved otherwise: an edit that neither the crank nor the eye should have to wait for.
    distances.reset();  // it looks at the old motion
    if (with.engine != shown.engine) least.reset();
    shown = with;
    pairs.clear();  // they look at the setup
    setup = std::move(fresh);
    return update();
  }
  for_all([&](PartView& view) { view.remove_from(renderer); });
  shown = with;
  pairs.clear();
  surfaces.clear();
  setup = std::move(fresh);
  distances.reset();
  least.reset();
  valve_views.clear();
  overlap_views.clear();

  crown.reset();
  crown_view = std::make_unique<PartView>("crown", std::make_shared<const Crown>(plain_crown(*shown.parts)), is_any,
                                          kCrownMetal, 1);
  // Both are one solid, cut at the deck face.
  const auto around = std::make_shared<const Crown>(thin_around(shown.parts->bore));
  bore_view = std::make_unique<PartView>("bore", around, is_block_inside, kBoreMetal, -1);
  gasket_view = std::make_unique<PartView>("gasket", around, is_gasket_seen, kGasketMetal, 1);
  bore_view->cull_backs();
  for (std::size_t i = 0; i < shown.engine->valves.size(); ++i) {
    const Valve& valve = shown.engine->valves[i];
    const Profile profile = with_stem(shown.parts->profiles.at(i), kStemShown * valve.head_diameter);
    valve_views.push_back(std::make_unique<PartView>(
        valve_part(valve), std::make_shared<const Crown>(valve_surface(profile, kValveDeflection)), is_any,
        metal_of(valve.role), -1));
  }
  overlap_views.resize(valve_views.size());
  for_all([&](PartView& view) { view.add_to(renderer); });
  update();
}

std::optional<Plane> Scene::Inner::cut() const {
  switch (look.section.through) {
    case Section::Through::nothing:
      return std::nullopt;
    case Section::Through::plane:
      return look.section.plane;
    case Section::Through::valve:
      return section ? std::optional(section->plane) : std::nullopt;
  }
  return std::nullopt;
}

void Scene::Inner::update() {
  if (!setup) return;
  const Engine& engine = *shown.engine;
  const double height = setup->motion.height(crank);
  Placing placing{height, {}};
  for (int i = 0; i < static_cast<int>(engine.valves.size()); ++i)
    placing.lifts.push_back(setup->motion.lift(i, crank));
  make_pairs();
  gaps = study::gaps_now(*setup, pairs, crank);
  lit = lit_gaps(*setup, shown.check.get(), gaps, crank, look);
  update_overlaps(placing);
  update_section();

  Frame piston;
  piston.origin = {0, 0, engine.gasket.thickness + height};
  const std::optional<Plane> opened = cut();
  crown_view->set_place(piston, opened);
  bore_view->set_band({piston.origin.z + least_z(shown.parts->crown) - kBelowPiston, 0});
  bore_view->set_place({}, opened);
  gasket_view->set_band({0, INFINITY});
  gasket_view->set_place({}, opened);
  for (std::size_t i = 0; i < valve_views.size(); ++i) {
    const Vec3 up = setup->valves[i].place.up;
    valve_views[i]->set_place(frame_about(setup->rim_centre(static_cast<int>(i), placing.lifts[i]), up), opened);
    if (overlap_views[i]) overlap_views[i]->set_place(piston, opened);
  }
  update_colors();
  update_opacity();
}

/// Only where they are lit: they take a tenth of a second.
void Scene::Inner::make_pairs() {
  if (!look.lit.contains(LitKind::pair)) return pairs.clear();
  if (surfaces.empty()) surfaces = study::pair_surfaces(*shown.parts);
  if (pairs.empty()) pairs = study::valve_pairs(*setup, surfaces);
}

void Scene::Inner::update_overlaps(const Placing& placing) {
  overlaps.assign(valve_views.size(), false);
  for (std::size_t i = 0; i < valve_views.size(); ++i) {
    if (overlap_views[i]) overlap_views[i]->remove_from(renderer);
    overlap_views[i].reset();
    overlaps[i] = gaps.piston[i].closest.measured() && gaps.piston[i].closest.value < 0;
    if (!overlaps[i] || !look.overlaps) continue;
    auto common =
        std::make_shared<const Crown>(overlap_solid(*shown.engine, *shown.parts, placing, static_cast<int>(i)));
    if (common->triangles.empty()) continue;
    overlap_views[i] = std::make_unique<PartView>("overlap", std::move(common), is_any, kOverlapMetal, 1);
    overlap_views[i]->draw_before(4);
    overlap_views[i]->add_to(renderer);
  }
}

/// Where the gap that the look has its focus on meets the other part, seen from the valve that is cut; none where that
/// valve has no part in it.
std::optional<Vec3> Scene::Inner::place_in_focus() const {
  if (!look.focus || *look.focus == LitKind::head) return std::nullopt;
  const int valve = look.section.valve;
  if (const auto kind = gap_kind(*look.focus)) {
    const Gap& gap = gaps.piston[static_cast<std::size_t>(valve)][*kind];
    if (!gap.measured()) return std::nullopt;
    return gap.on_other + Vec3{0, 0, setup->engine.gasket.thickness + setup->motion.height(crank)};
  }
  for (const LitGap& each : lit)
    if (each.kind == *look.focus && (each.valve == valve || each.other == valve))
      return each.valve == valve ? each.on_other : each.on_valve;
  return std::nullopt;
}

void Scene::Inner::update_section() {
  section.reset();
  dimensions.clear();
  const int valve = look.section.valve;
  if (look.section.through != Section::Through::valve || valve < 0 ||
      static_cast<std::size_t>(valve) >= setup->valves.size())
    return;
  const PoseGaps& of = gaps.piston[static_cast<std::size_t>(valve)];
  section = valve_section(*setup, valve, look.section.clock, crank, of, place_in_focus());
  Plane in_piston = section->plane;
  in_piston.origin = in_piston.origin - Vec3{0, 0, setup->engine.gasket.thickness + setup->motion.height(crank)};
  dimensions =
      section_dimensions(*setup, valve, crank, *section, cut_by(shown.parts->crown, in_piston), of, look.format);
  std::erase_if(dimensions,
                [&](const SectionDimension& each) { return !look.lit.contains(lit_kind(kind_of(each.what))); });
}

void Scene::Inner::update_colors() {
  const Bands& bands = bands_in(look.format.units);
  if (look.coloring == Coloring::plain || (look.coloring == Coloring::least && !least)) return crown_view->set_plain();
  if (look.coloring == Coloring::groups) return crown_view->set_groups();
  if (!crown) crown = std::make_unique<const Crown>(colored_crown(*shown.parts));
  if (look.coloring == Coloring::least) return crown_view->set_distances(*crown, least->distance, bands);
  if (!distances) distances = std::make_unique<CrownDistances>(*setup, *crown);
  std::vector<float> now = distances->beyond();
  distances->lower(now, crank);
  crown_view->set_distances(*crown, now, bands);
}

/// A valve that hides what is lit, or what it has in common with the crown, lets one see through.
void Scene::Inner::update_opacity() {
  if (!setup) return;
  const bool opened = cut().has_value();
  bool peels = false;
  for_all([&](PartView& view) {
    const bool clear = look.transparent.contains(view.name());
    view.set_visible(!look.hidden.contains(view.name()));
    view.set_opacity(clear ? kTransparent : 1);
    peels = peels || clear;
  });
  for (std::size_t i = 0; i < valve_views.size() && !opened; ++i) {
    PartView& view = *valve_views[i];
    if (look.hidden.contains(view.name()) || look.transparent.contains(view.name())) continue;
    if (!overlaps[i] && !hides_lit(view)) continue;
    view.set_opacity(kSeenThrough);
    peels = true;
  }
  renderer->SetUseDepthPeeling(peels);
}

bool Scene::Inner::hides_lit(const PartView& view) const {
  const Vec3 eye = toward_eye(renderer->GetActiveCamera());
  Obstacles valve;
  valve.add(view.solid(), view.frame());
  return std::ranges::any_of(lit, [&](const LitGap& gap) {
    if (!words.is_seen(0.5 * (gap.on_valve + gap.on_other))) return false;
    return !valve.clear(gap.on_valve, eye, kHidden) || !valve.clear(gap.on_other, eye, kHidden);
  });
}

std::string Scene::Inner::section_words() const {
  if (!section) {
    const Vec3 n = look.section.plane.normal, at = look.section.plane.origin;
    const Lengths lengths(look.format);
    for (const auto& [axis, along, where] : {std::tuple{'x', n.x, at.x}, {'y', n.y, at.y}, {'z', n.z, at.z}})
      if (std::fabs(std::fabs(along) - 1) < 1e-9)
        return fmt::format("section at {} = {} {}", axis, lengths.plain(where), lengths.unit());
    return "section at an angle";
  }
  const std::size_t number = static_cast<std::size_t>(look.section.valve);
  const Vec3 centre = section->plane.origin;
  const double clock = study::spot_of(centre + section->across, centre, setup->valves[number].place.up).clock;
  return fmt::format("section through the axis of {}{}", shown.engine->valves[number].name,
                     std::isnan(clock) ? "" : " at " + clock_text(clock));
}

void Scene::Inner::update_words() {
  if (!setup) return;
  Page page;
  page.captions = look.captions;
  page.coloring = look.coloring == Coloring::least && !least ? Coloring::plain : look.coloring;
  if (look.coloring == Coloring::groups)
    for (const Face& face : crown_view->solid().faces) page.groups.insert(face.group);
  page.format = look.format;
  page.veil = veil;
  page.dimensions = dimensions;
  for (const LitGap& each : lit) {
    // In a section its own dimensions say it, and what is elsewhere would be drawn where it is not.
    if (const auto plane = cut()) {
      const auto off = [&](Vec3 p) { return std::fabs(dot(p - plane->origin, plane->normal)); };
      if (std::max(off(each.on_valve), off(each.on_other)) > kInSection) continue;
      if (section && gap_kind(each.kind) && each.kind != LitKind::closest) continue;
    }
    page.lit.push_back(each);
  }
  if (!look.labels) {
    for (LitGap& each : page.lit) each.label.clear();
    for (SectionDimension& each : page.dimensions) each.label.clear();
  }
  for_all([&](PartView& view) { view.set_line_width(1.1 * words.unit()); });
  if (section) {  // the corners of the rim, which a section is looked at for
    const study::ValveSetup& of = setup->valves[static_cast<std::size_t>(look.section.valve)];
    for (const double side : {-1.0, 1.0})
      page.keep_free.push_back(section->plane.origin + side * of.to_piston.profile().rim_radius * section->across);
  }
  Captions above = captions(*setup, shown.check.get(), crank, look.format);
  if (cut()) above.subtitle += "   " + section_words();
  words.write(page, above);
}

/// Places at the outside of what is shown.
std::vector<Vec3> Scene::Inner::outside() const {
  std::vector<Vec3> out;
  const auto add = [&](const PartView& view, double lowest) {
    if (look.hidden.contains(view.name())) return;
    for (const Edge& edge : view.solid().edges)
      for (const Vec3 p : edge.points)
        if (p.z >= lowest)
          out.push_back(view.frame().origin + p.x * view.frame().x + p.y * view.frame().y + p.z * view.frame().z);
  };
  add(*crown_view, -INFINITY);
  add(*gasket_view, 0);
  for (const auto& each : valve_views) add(*each, -INFINITY);
  return out;
}

const LitGap* Scene::Inner::focus() const {
  const LitGap* chosen = nullptr;
  const auto before = [](const LitGap& a, const LitGap& b) {  // the piston is what one looks at first
    const bool of_piston = gap_kind(a.kind).has_value();
    if (of_piston != gap_kind(b.kind).has_value()) return of_piston;
    return a.gap.value < b.gap.value;
  };
  for (const LitGap& each : lit) {
    if (look.focus && each.kind == *look.focus) return &each;
    if (chosen == nullptr || before(each, *chosen)) chosen = &each;
  }
  return chosen;
}

Obstacles Scene::Inner::obstacles() const {
  Obstacles out;
  if (!look.hidden.contains("crown")) out.add(shown.parts->crown, crown_view->frame());
  for (const auto& each : valve_views)
    if (!look.hidden.contains(each->name()) && !look.transparent.contains(each->name()))
      out.add(each->solid(), each->frame());
  return out;
}

/// From where a view looks.
Vec3 Scene::Inner::direction(View view) const {
  const double low = 20 * kDegree;
  const LitGap* const gap = focus();
  switch (view) {
    case View::front:
      return {0, std::cos(low), std::sin(low)};
    case View::rear:
      return {0, -std::cos(low), std::sin(low)};
    case View::right:
      return {std::cos(low), 0, std::sin(low)};
    case View::left:
      return {-std::cos(low), 0, std::sin(low)};
    case View::above:
      return {0, 0, 1};
    case View::square:
    case View::best:
    case View::near:
      break;
  }
  if (const auto opened = cut()) return opened->normal;
  if (view == View::square || gap == nullptr) return unit({-0.5, -0.7, 0.55});
  const Vec3 inside = gap->valve < 0 ? Vec3{} : setup->rim_centre(gap->valve, setup->motion.lift(gap->valve, crank));
  // The bore's wall is seen from within: its near half is not drawn.
  const double outward = gap->kind == LitKind::bore ? -1 : 1;
  return best_direction(obstacles(), gap->on_valve, gap->on_other, outward * (gap->on_other - inside));
}

void Scene::Inner::look_from(View view) {
  if (!setup) return;
  const LitGap* const gap = focus();
  const Vec3 toward = direction(view);
  std::vector<Vec3> places;
  if (view == View::near && gap != nullptr) {
    const auto of = static_cast<std::size_t>(std::max(gap->valve, 0));
    const double around = std::max(kNear * setup->engine.valves[of].head_diameter, 1.5 * std::fabs(gap->gap.value));
    const Frame across = frame_about(0.5 * (gap->on_valve + gap->on_other), toward);
    for (int i = 0; i < 36; ++i)
      places.push_back(across.origin +
                       around * (std::cos(i * 10 * kDegree) * across.x + std::sin(i * 10 * kDegree) * across.y));
  } else if (section && (view == View::square || view == View::best)) {
    // The head of the valve and what is around it: the stem tells nothing.
    const study::ValveSetup& valve = setup->valves[static_cast<std::size_t>(look.section.valve)];
    const double head = 2 * valve.to_piston.profile().rim_radius;
    for (const double side : {-0.72, 0.72})
      for (const double along : {-0.32, 0.42})
        places.push_back(section->plane.origin + side * head * section->across + along * head * valve.place.up);
  } else {
    places = outside();
  }
  set_camera(renderer->GetActiveCamera(), eye_on(places, toward, words.room_for_scene(look.captions), kMarginAround));
  renderer->ResetCameraClippingRange();
}

Scene::Scene() : inner_(std::make_unique<Inner>()) {}
Scene::~Scene() = default;

vtkRenderer* Scene::renderer() {
  return inner_->renderer;
}

void Scene::show(const Shown& shown) {
  inner_->take(shown);
}

void Scene::place(double crank) {
  inner_->crank = crank;
  inner_->update();
}

double Scene::crank() const {
  return inner_->crank;
}

void Scene::look(const Look& look) {
  inner_->look = look;
  inner_->update();
}

const Look& Scene::look() const {
  return inner_->look;
}

void Scene::set_least(std::shared_ptr<const NearestGaps> least) {
  inner_->least = std::move(least);
  if (inner_->setup) inner_->update_colors();
}

void Scene::veil(const std::string& words) {
  inner_->veil = words;
}

const std::string& Scene::veil() const {
  return inner_->veil;
}

void Scene::view(View view) {
  inner_->look_from(view);
  inner_->update_opacity();
}

void Scene::turn(double angle) {
  vtkCamera* const camera = inner_->renderer->GetActiveCamera();
  const auto turned = [&](const double* p) {
    return Vec3{p[0] * std::cos(angle) - p[1] * std::sin(angle), p[0] * std::sin(angle) + p[1] * std::cos(angle), p[2]};
  };
  const Vec3 eye = turned(camera->GetPosition()), at = turned(camera->GetFocalPoint()),
             up = turned(camera->GetViewUp());
  camera->SetPosition(eye.x, eye.y, eye.z);
  camera->SetFocalPoint(at.x, at.y, at.z);
  camera->SetViewUp(up.x, up.y, up.z);
  inner_->renderer->ResetCameraClippingRange();
  inner_->update_opacity();
}

std::vector<std::string> Scene::part_names() const {
  std::vector<std::string> names{"crown", "bore", "gasket"};
  for (const auto& each : inner_->valve_views) names.push_back(each->name());
  return names;
}

const std::vector<LitGap>& Scene::lit() const {
  return inner_->lit;
}

const std::vector<SectionDimension>& Scene::dimensions() const {
  return inner_->dimensions;
}

SeenFace Scene::seen_at(int x, int y) {
  vtkNew<vtkCellPicker> picker;
  picker->SetTolerance(0);
  if (picker->Pick(x, y, 0, inner_->renderer) == 0) return {};
  SeenFace seen;
  const double* const place = picker->GetPickPosition();
  inner_->for_all([&](PartView& view) {
    if (picker->GetActor() != view.surface()) return;
    seen = {view.name(), view.face_of_cell(picker->GetCellId()), {place[0], place[1], place[2]}};
  });
  if (seen.part == "crown")
    seen.place.z -= inner_->setup->engine.gasket.thickness + inner_->setup->motion.height(inner_->crank);
  return seen;
}

}  // namespace eyebrow::scene
