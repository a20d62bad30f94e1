// The command line as plain values. CLI11 is known to options.cpp, verb.cpp and the verbs' own *_options.cpp alone.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "eyebrow/engine.hpp"
#include "eyebrow/fault.hpp"
#include "eyebrow/map.hpp"
#include "eyebrow/pocket_sizing.hpp"
#include "eyebrow/spec.hpp"

namespace eyebrow::cli {

/// The command line is wrong (exit status 2).
class UsageError : public Error {
 public:
  using Error::Error;
};

/// --help or --version was asked: this is the answer.
struct Shown {
  std::string text;
};

struct CheckArguments {
  std::string engine;               ///< path
  std::vector<Override> overrides;  ///< --set
  std::optional<LengthUnit> units;  ///< none: as in the engine file
  int digits = -1;                  ///< -1: as usual in the unit
  double step = kDegree;            ///< radians
  std::string csv, json;            ///< path, "-" for the standard output, empty for none
  std::string plot;                 ///< path, empty for none
  bool no_remedies = false;         ///< do not look for what would restore a short gap
  bool explain = false;             ///< tell what each input does to each gap
  bool quiet = false;
};

struct PlaceInCycle {
  std::optional<double> crank;  ///< radians
  std::string gap;              ///< "intake.radial"; empty beside no crank angle: the gap with the least margin
};

struct ExportArguments {
  std::string engine;
  std::vector<Override> overrides;
  std::string output;
  PlaceInCycle at{0.0, ""};
  bool quiet = false;
};

struct FacesArguments {
  std::string engine;
  std::vector<Override> overrides;
  std::optional<LengthUnit> units;  ///< as CheckArguments
  bool quiet = false;
};

struct MapArguments {
  std::string engine;
  std::vector<Override> overrides;
  std::vector<Varied> inputs;       ///< --vary, one or two
  std::vector<std::string> gaps;    ///< --gap, names as gap_name has them
  std::optional<LengthUnit> units;  ///< as CheckArguments
  int digits = -1;
  std::string csv, json, plot;
  bool allowed = false;  ///< tell how far the one input may go
  bool quiet = false;
};

struct CompareArguments {
  std::vector<std::string> engines;  ///< paths, two or more
  std::vector<Override> overrides;   ///< of all of them
  std::vector<std::string> valves;   ///< --valve: those that are drawn; empty = all
  std::optional<LengthUnit> units;   ///< none: as in the first engine file
  int digits = -1;
  std::string json, plot;
  bool no_remedies = false;  ///< as CheckArguments
  bool quiet = false;
};

struct UntimedArguments {
  std::string engine;
  std::vector<Override> overrides;
  std::optional<LengthUnit> units;  ///< as CheckArguments
  int digits = -1;
  std::string json;
  bool quiet = false;
};

/// Where in the cycle a picture is taken: at a crank angle, or where the check finds a gap least.
struct PictureArguments {
  std::vector<std::string> words;  ///< as typed, for the program that draws
  std::string engine;
  std::vector<Override> overrides;
  std::string output;
  std::vector<PlaceInCycle> at;                  ///< one picture each
  std::string section;                           ///< empty: none
  std::string color = "plain", view;             ///< words of scene/words.hpp; no view: as fits what is shown
  std::vector<std::string> lit;                  ///< kinds of gap; "none" alone = no gap
  std::vector<std::string> hidden, transparent;  ///< parts
  int width = 1600, height = 1000;
  std::vector<double> cycle;        ///< radians: a picture each, the eye where it is
  int spin = 0;                     ///< pictures of one turn around; 0 = none
  std::optional<LengthUnit> units;  ///< as CheckArguments
  int digits = -1;
  bool quiet = false;
};

struct StackArguments {
  std::string engine;
  std::vector<Override> overrides;
  std::size_t samples = 100000;
  std::uint64_t seed = 1;
  std::vector<std::string> gaps;    ///< --gap, as MapArguments
  std::optional<LengthUnit> units;  ///< as CheckArguments
  int digits = -1;
  std::string csv, json, plot, bars;
  bool quiet = false;
};

struct PocketArguments {
  std::string engine;
  std::vector<Override> overrides;
  PocketWish wish;
  bool worst_case = false;          ///< the gaps have to be there anywhere within the tolerances
  std::optional<double> share;      ///< or in this share of engines
  std::optional<LengthUnit> units;  ///< as CheckArguments
  int digits = -1;
  std::string json;              ///< as CheckArguments
  std::string fix, sheet;        ///< paths, empty for none
  bool crown_not_known = false;  ///< write the fixed file though crown left is not known
  bool quiet = false;
};

struct NewArguments {
  std::string path;
  bool force = false;
  bool quiet = false;
};

struct ViewArguments {
  std::vector<std::string> words;  ///< as PictureArguments
  std::string engine;              ///< path; empty: a new one
  std::vector<Override> overrides;
};

using Command =
    std::variant<Shown, CheckArguments, CompareArguments, ExportArguments, FacesArguments, MapArguments, NewArguments,
                 PictureArguments, PocketArguments, StackArguments, UntimedArguments, ViewArguments>;

/// Throws UsageError. Whether a --set key exists is judged with the engine file.
Command parse_command_line(int argc, const char* const* argv);

}  // namespace eyebrow::cli
