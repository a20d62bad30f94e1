// One function a verb; each returns the exit status.
#pragma once
#include <string>
#include <vector>

#include "options.hpp"
#include "output_file.hpp"

namespace eyebrow::cli {

inline constexpr int kHolds = 0, kShort = 1, kUsage = 2, kInput = 3, kMachine = 4;
inline constexpr int kSignalled = 128;  ///< plus the signal's number, as shells count

int run(const Shown& shown);
int run(const CheckArguments& arguments);
int run(const CompareArguments& arguments);
int run(const ExportArguments& arguments);
int run(const FacesArguments& arguments);
int run(const MapArguments& arguments);
/// In `eyebrow`: starts the program that draws, which links the 3-D library; there: draws.
int run(const PictureArguments& arguments);
int run(const StackArguments& arguments);
int run(const NewArguments& arguments);
int run(const PocketArguments& arguments);
int run(const UntimedArguments& arguments);
/// As PictureArguments: there, shows the window until it is closed.
int run(const ViewArguments& arguments);

/// Refuses to write over the engine file: its owner would lose it. Throws UsageError.
void keep_apart(const std::string& engine, const std::string& output);

/// What a command will write: of the paths those that are neither empty nor "-". A place that cannot be written is told
/// now, not after the work. Throws as keep_apart and OutputFile.
std::vector<OutputFile> output_files(const std::string& engine, const std::vector<std::string>& paths);

}  // namespace eyebrow::cli
