// CheckResult as text, CSV and JSON.
#pragma once
#include <string>

#include "eyebrow/check.hpp"

namespace eyebrow {

struct EffectsTold;  // effects_report.hpp

struct Format {
  LengthUnit units = LengthUnit::mm;
  int digits = -1;  ///< decimals of a length; -1 = 2 in mm, 3 in inches
};

/// "12.5 ATDC", "8.0 BTDC", "0.0 TDC". `crank` in radians.
std::string crank_text(double crank, int digits = 1);

/// The table that a builder reads, the verdict with its conditions, and the caution.
std::string check_text(const CheckResult& result, const Format& format);

/// A row a cylinder with its tightest gap, the worst of them marked; then the whole report of the worst.
std::string check_text(const CylindersResult& result, const Format& format);

/// One row a valve and sampled crank angle, with the drop table.
std::string check_csv(const CheckResult& result, const Format& format);

/// The same for every cylinder, whose name stands in a first column of its own.
std::string check_csv(const CylindersResult& result, const Format& format);

/// The contract "eyebrow.check/1": mm and degrees whatever the units. `effects`: what single numbers do, where that is
/// known.
std::string check_json(const CheckResult& result, const EffectsTold* effects = nullptr);

/// The same of the worst cylinder; besides `cylinder`, its name, and `cylinders`, the least gaps of each.
std::string check_json(const CylindersResult& result, const EffectsTold* effects = nullptr);

}  // namespace eyebrow
