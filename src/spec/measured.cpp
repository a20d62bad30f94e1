#include "spec/measured.hpp"

#include <fmt/format.h>

#include <cmath>

#include "spec/words.hpp"

namespace eyebrow {
namespace {

/// Is the bare number of this measure taken in a unit that the file or the trade states?
bool may_be_bare(Measure measure) {
  return measure == Measure::length || measure == Measure::angle || measure == Measure::ratio;
}

class NumberReader {
 public:
  NumberReader(Context& context, const std::string& key, const Node& node, Measure measure)
      : context_(context), key_(key), node_(node), measure_(measure) {}

  std::optional<Measured> read() {
    const auto parsed = parse();
    if (!parsed) return std::nullopt;
    const Quantity value = parsed->value;
    if (wrong_kind(value.unit))
      return refuse(fmt::format("must be {}, found the unit \"{}\"", to_string(measure_), to_string(value.unit)));
    if (parsed->error && wrong_kind(parsed->error->unit))
      return refuse(fmt::format("must be {}, and its reading error too: found the unit \"{}\" behind the \u00b1",
                                to_string(measure_), to_string(parsed->error->unit)));
    Measured out;
    const bool unit_behind = parsed->error && parsed->error->unit != Unit::none;
    const auto unit = value.unit != Unit::none ? value.unit
                      : unit_behind            ? unit_from_behind(*parsed->error)
                                               : bare_unit(value.number);
    if (!unit) return std::nullopt;
    out.unit = *unit;
    out.bare = value.unit == Unit::none && !unit_behind;
    out.value = value.number * factor(*unit);
    if (!parsed->error) return out;
    const Unit error_unit = unit_behind ? parsed->error->unit : *unit;
    out.error = parsed->error->number * factor(error_unit);
    if (!std::isfinite(out.error) || out.error < 0)
      return refuse(fmt::format("has a reading error of {}; it is a half-width, a finite number of 0 or more",
                                quantity_text(out.error, error_unit)));
    return out;
  }

 private:
  std::nullopt_t refuse(const std::string& what) {
    context_.fault(node_.place, fmt::format("{} {}", key_, what));
    return std::nullopt;
  }

  bool wrong_kind(Unit unit) const { return unit != Unit::none && measure_of(unit) != measure_; }

  std::optional<QuantityAndError> parse() {
    if (node_.kind == Node::Kind::number) return QuantityAndError{{node_.number, Unit::none}};
    if (node_.kind != Node::Kind::word)
      return refuse(fmt::format("must be {}, found {}", to_string(measure_), kind_text(node_)));
    const auto parsed = parse_with_error(node_.text, measure_);
    if (const auto* trouble = std::get_if<QuantityTrouble>(&parsed))
      return refuse(fmt::format("must be {}: {}", to_string(measure_), trouble->what));
    return std::get<QuantityAndError>(parsed);
  }

  /// What a bare number is in; null = nothing, and told.
  std::optional<Unit> bare_unit(double number) {
    if (!may_be_bare(measure_))
      return refuse(
          fmt::format("is {:.10g} with no unit: write it in quotes, with one of {}", number, units_text(measure_)));
    if (measure_ == Measure::angle) return Unit::degree;
    if (measure_ != Measure::length) return Unit::none;
    ++context_.bare_lengths;
    if (context_.units_faulty) return std::nullopt;
    if (context_.units) return unit_of(*context_.units);
    return refuse(
        fmt::format("is {0:.10g} with no unit, and the file states no default: write \"{0:.10g} mm\" or "
                    "\"{0:.10g} in\", or units = \"mm\" or \"in\" at the top",
                    number));
  }

  /// "0.560 ± 0.005 in": inches for both, unless a bare number is in something else, when nobody can tell.
  std::optional<Unit> unit_from_behind(const Quantity& error) {
    std::optional<Unit> usual;
    if (measure_ == Measure::angle) usual = Unit::degree;
    if (measure_ == Measure::length && context_.units) usual = unit_of(*context_.units);
    if (!usual || *usual == error.unit) return error.unit;
    return refuse(
        fmt::format("is \"{}\", whose unit stands behind the error alone, and a bare number is in {} here: "
                    "write a unit behind the number too",
                    clipped(node_.text), to_string(*usual)));
  }

  Context& context_;
  const std::string& key_;
  const Node& node_;
  Measure measure_;
};

}  // namespace

std::optional<Measured> read_measured(Context& context, const std::string& key, const Node& value, Measure measure) {
  return NumberReader(context, key, value, measure).read();
}

}  // namespace eyebrow
