#include "spec/like.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>

#include "spec/nearest.hpp"
#include "spec/words.hpp"

namespace eyebrow {
namespace {

const std::vector<std::vector<std::vector<std::string>>> kWays = {
    {{"tilt", "lean"}, {"tilt_xz", "tilt_yz"}},
    {{"rim_height"}, {"flush_lift"}},
    {{"deck_clearance"}, {"block_deck_height", "compression_height"}},
    {{"diameter"}, {"arc_chord", "arc_height"}},
    {{"rocker_ratio"}, {"rocker_table"}},
    {{"step"}, {"margin", "seat_angle", "seat_width", "face", "face_depth", "rim_radius", "underhead_angle"}},
    {{"durations", "events"},
     {"table", "table_degrees", "table_angles", "lift_unit", "reading_error"},
     {"law", "law_duration", "ramp_lift"}},
};

/// What says how a lobe lifts, and what belongs to one card of a lobe and is nothing beside another.
const std::vector<std::string> kCurves = {"durations", "events", "table", "law"};
const std::vector<std::string> kOfOneCard = {"durations", "events", "ramp_duration", "lift_at_tdc", "tdc_advance"};

bool contains(const std::vector<std::string>& words, const std::string& word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

/// Does `own` state in another way what `key` of `other` states, or what `key` is nothing without?
bool stated_otherwise(const Node& own, const Node& other, const std::string& key) {
  const bool has_curve = std::any_of(kCurves.begin(), kCurves.end(), [&](const auto& word) { return own.find(word); });
  const bool ramp_of_law = key == "ramp_duration" && own.find("law") && other.find("law");
  if (has_curve && contains(kOfOneCard, key) && !ramp_of_law) return true;
  if (key == "lift_measured" && own.find("lift")) return true;
  return std::any_of(own.children.begin(), own.children.end(),
                     [&](const Node& child) { return are_two_ways(key, child.key); });
}

/// Says of all that is taken over from `path` where it was written. What came there by `like` itself knows already.
void remember_where(Node& node, const std::string& path) {
  if (node.taken_from.empty()) node.taken_from = path;
  std::size_t item = 0;
  for (Node& child : node.children)
    remember_where(child, path + "." + (child.key.empty() ? std::to_string(++item) : child.key));
}

class Likes {
 public:
  Likes(Node& tables, std::string path, std::vector<Fault>& faults)
      : tables_(tables), path_(std::move(path)), faults_(faults) {}

  void resolve(Node& own, std::vector<std::string> chain) {
    const Node* like = own.kind == Node::Kind::table ? own.find("like") : nullptr;
    if (!like) return;
    const Node word = *like;
    own.children.erase(own.children.begin() + (like - own.children.data()));
    const std::string heading = "[" + path_ + "." + own.key + "]";
    own.lacks_like = true;  // until it is found
    if (word.kind != Node::Kind::word) {
      faults_.push_back(
          fault_at(word.place, fmt::format("like in {} must be a name in quotes, found {}", heading, kind_text(word))));
      return;
    }
    chain.push_back(own.key);
    if (contains(chain, word.text)) {
      faults_.push_back(fault_at(word.place, fmt::format("{} takes from itself: like = \"{}\" goes in a circle",
                                                         heading, clipped(word.text))));
      return;
    }
    Node* other = tables_.find(word.text);
    if (!other || other->kind != Node::Kind::table) {
      std::vector<std::string> names;
      for (const Node& table : tables_.children)
        if (table.kind == Node::Kind::table && table.key != own.key) names.push_back(table.key);
      faults_.push_back(fault_at(word.place, fmt::format("like in {}: there is no [{}.{}]{}", heading, path_,
                                                         clipped(word.text), did_you_mean(word.text, names))));
      return;
    }
    resolve(*other, chain);
    own.lacks_like = other->lacks_like;
    const Node stated = own;
    for (const Node& child : other->children) {
      if (stated.find(child.key) || stated_otherwise(stated, *other, child.key)) continue;
      if (child.key == "role" && role_from_name(own.key)) continue;
      own.children.push_back(child);
      remember_where(own.children.back(), path_ + "." + word.text + "." + child.key);
    }
  }

 private:
  Node& tables_;
  std::string path_;
  std::vector<Fault>& faults_;
};

}  // namespace

const std::vector<std::vector<std::vector<std::string>>>& ways_of_stating() {
  return kWays;
}

bool are_two_ways(const std::string& key, const std::string& other) {
  for (const auto& ways : kWays) {
    const auto holding = [&](const std::string& word) {
      return std::find_if(ways.begin(), ways.end(), [&](const auto& way) { return contains(way, word); });
    };
    const auto one = holding(key), two = holding(other);
    if (one != ways.end() && two != ways.end() && one != two) return true;
  }
  return false;
}

void resolve_likes(Node& root, std::vector<Fault>& faults) {
  for (const char* path : {"valve", "pocket", "lobe"}) {
    Node* tables = root.find(path);
    if (!tables || tables->kind != Node::Kind::table) continue;
    Likes likes(*tables, path, faults);
    for (Node& table : tables->children) likes.resolve(table, {});
  }
}

}  // namespace eyebrow
