// Files that the window writes, whole or not at all.
#pragma once
#include <QString>
#include <functional>
#include <string>

#include "eyebrow/report.hpp"
#include "window/checker.hpp"

namespace eyebrow::window {

/// Throws MachineError with the file's name and the reason.
void write_whole(const QString& path, const std::string& bytes);

/// The report that the ending asks for: .txt, .csv, .json; .svg, .pdf and .png are the plot. Throws InputError for
/// another ending, MachineError where it cannot be written.
void export_report(const QString& path, const Checked& checked, const Format& format);

/// Pictures number 1 ... count, "frame_0001.png" and so on, in a folder. `picture` makes the bytes of a PNG; `go_on`
/// is asked after each. Throws MachineError; false: stopped. What was written stays.
bool export_frames(const QString& folder, int count, const std::function<std::string(int)>& picture,
                   const std::function<bool(int)>& go_on);

}  // namespace eyebrow::window
