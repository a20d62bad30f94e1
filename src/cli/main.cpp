// eyebrow: 3-D interference checker for pistons and valves. Exit statuses: see commands.hpp and --help.
#include <new>
#include <variant>

#include "commands.hpp"
#include "eyebrow/check.hpp"
#include "interrupt.hpp"
#include "messages.hpp"
#include "output_file.hpp"

namespace {

using namespace eyebrow;
using namespace eyebrow::cli;

// The engine file of a command; empty when it has none.
struct InputOf {
  std::string operator()(const CheckArguments& arguments) const { return arguments.engine; }
  std::string operator()(const ExportArguments& arguments) const { return arguments.engine; }
  std::string operator()(const FacesArguments& arguments) const { return arguments.engine; }
  std::string operator()(const MapArguments& arguments) const { return arguments.engine; }
  std::string operator()(const CompareArguments& arguments) const { return arguments.engines.front(); }
  std::string operator()(const UntimedArguments& arguments) const { return arguments.engine; }
  std::string operator()(const StackArguments& arguments) const { return arguments.engine; }
  std::string operator()(const PictureArguments& arguments) const { return arguments.engine; }
  std::string operator()(const ViewArguments& arguments) const { return arguments.engine; }
  std::string operator()(const PocketArguments& arguments) const { return arguments.engine; }
  template <typename Other>
  std::string operator()(const Other&) const {
    return "";
  }
};

int guarded(int argc, const char* const* argv) {
  std::string input;
  try {
    const Command command = parse_command_line(argc, argv);
    input = std::visit(InputOf{}, command);
    return std::visit([](const auto& of) { return run(of); }, command);
  } catch (const UsageError& error) {
    tell(error.what());
    return kUsage;
  } catch (const InputError& error) {
    tell(error.faults(), input);
    return kInput;
  } catch (const Interrupted&) {
    return kSignalled + signal_seen();
  } catch (const std::bad_alloc&) {
    tell("out of memory");
    return kMachine;
  } catch (const std::exception& error) {  // MachineError, and what should not happen
    tell(error.what());
    return kMachine;
  } catch (...) {
    tell("an unknown fault inside the program");
    return kMachine;
  }
}

}  // namespace

int main(int argc, char** argv) {
  guard_standard_streams();
  watch_signals();
  return guarded(argc, argv);
}
