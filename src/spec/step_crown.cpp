// [piston.step]: a crown from the designer's own CAD.
#include "spec/step_crown.hpp"

#include <fmt/format.h>

#include "spec/step_file.hpp"

namespace eyebrow {
namespace {

constexpr std::size_t kMostFaces = 200;

std::optional<Vec3> read_direction(Section& section, const std::string& key) {
  return section.choice<Vec3>(key, {{"+x", {1, 0, 0}},
                                    {"-x", {-1, 0, 0}},
                                    {"+y", {0, 1, 0}},
                                    {"-y", {0, -1, 0}},
                                    {"+z", {0, 0, 1}},
                                    {"-z", {0, 0, -1}}});
}

bool is_of_pocket(Group group) {
  return group == Group::floor || group == Group::corner || group == Group::wall || group == Group::mouth;
}

/// Which face is meant: by name, by number, or by a place on it.
void read_which(Context& context, Section& one, StepFace& face) {
  if (!one.has("point")) {
    face.face = one.need_word("face",
                              "its name in the STEP file, its number as `eyebrow faces` has it, or point = "
                              "[x, y, z], a place on it");
    return;
  }
  if (one.has("face"))
    context.fault(one.place("face"),
                  fmt::format("{}: a face is told by face or by point, not by both", one.key_path("face")));
  one.know("face");
  const auto point = one.numbers("point");
  if (!point) return;
  if (point->size() == 3)
    face.point = Vec3{(*point)[0], (*point)[1], (*point)[2]};
  else
    context.fault(
        one.place("point"),
        fmt::format("{}: must be three lengths, x, y and z from where the bore axis meets the crown flat, found "
                    "{}",
                    one.key_path("point"), point->size()));
}

void read_faces(Context& context, Section& section, StepCrown& crown) {
  for (Section one : section.list("faces")) {
    StepFace face;
    read_which(context, one, face);
    const auto group = one.need_choice<Group>("is", {{"flat", Group::flat},
                                                     {"dish floor", Group::dish_floor},
                                                     {"dish corner", Group::dish_corner},
                                                     {"dish wall", Group::dish_wall},
                                                     {"dome", Group::dome},
                                                     {"top chamfer", Group::top_chamfer},
                                                     {"side", Group::side},
                                                     {"underside", Group::underside},
                                                     {"floor", Group::floor},
                                                     {"corner", Group::corner},
                                                     {"wall", Group::wall},
                                                     {"mouth", Group::mouth}});
    face.group = group.value_or(Group::flat);
    if (group && is_of_pocket(*group)) {
      face.valve = one.need_word("valve", "whose pocket the face belongs to");
    } else {
      one.know("valve");
      if (group && one.has("valve"))
        context.fault(one.place("valve"),
                      fmt::format("{}: only a floor, corner, wall or mouth is a valve's", one.key_path("valve")));
    }
    one.finish();
    crown.faces.push_back(std::move(face));
  }
  if (crown.faces.size() > kMostFaces) {
    context.fault(section.place("faces"),
                  fmt::format("{}: at most {} faces may be named", section.key_path("faces"), kMostFaces));
  }
}

}  // namespace

StepCrown read_step_crown(Context& context, Section section) {
  StepCrown crown;
  StepFileRead read = read_step_file(context, section);
  crown.file = std::move(read.file);
  crown.text = std::move(read.text);
  crown.solid = std::move(read.solid);
  if (!section.exists()) return crown;  // told: it is no table
  crown.up = read_direction(section, "up");
  crown.front = read_direction(section, "front");
  crown.turn = section.number_or("turn", 0);
  crown.flat = section.number("flat");
  crown.mend = section.number_or("mend", 0);
  read_faces(context, section, crown);
  section.finish();
  return crown;
}

}  // namespace eyebrow
