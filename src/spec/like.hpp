// `like = "NAME"`: a valve, pocket or lobe takes what it does not state from another.
#pragma once
#include <string>
#include <vector>

#include "spec/node.hpp"

namespace eyebrow {

/// What one table may state in different ways: each row has groups of keys, and a table uses one group of a row.
const std::vector<std::vector<std::vector<std::string>>>& ways_of_stating();

/// Do the two keys of one table state the same thing in different ways (flush_lift and rim_height)?
bool are_two_ways(const std::string& key, const std::string& other);

/// Fills the tables of [valve.*], [pocket.*] and [lobe.*] that say `like`, and takes the word out of them. Values keep
/// the place where they were written. Not taken: a key that states the same thing another way (flush_lift where
/// rim_height is stated), and the role of a table whose own name tells it.
void resolve_likes(Node& root, std::vector<Fault>& faults);

}  // namespace eyebrow
