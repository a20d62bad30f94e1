#include "options.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>

#include "spec/nearest.hpp"
#include "verb.hpp"

namespace eyebrow::cli {
namespace {

struct Parser {
  CLI::App app{"Checks that no valve touches a piston, another valve or the bore at any crank angle.", "eyebrow"};
  std::vector<Verb> verbs;

  Parser() {
    app.set_help_flag("--help,-h", "Print this and stop");
    app.set_version_flag("--version", "eyebrow " EYEBROW_VERSION, "Print the version and stop");
    app.footer("`eyebrow VERB --help` tells more of each verb.\n\n" + kCheckStatuses);
    const auto words = app.get_formatter();  // which the verbs share
    words->label("SUBCOMMAND", "VERB");
    words->label("Positionals", "Words");
    words->label("REQUIRED", "");
    for (const auto take : {take_check, take_compare, take_export, take_faces, take_map, take_new, take_picture,
                            take_pocket, take_stack, take_untimed, take_view})
      verbs.push_back(take(app));
  }

  std::vector<std::string> names() const {
    std::vector<std::string> all;
    for (const Verb& verb : verbs) all.push_back(verb.app->get_name());
    return all;
  }
  /// "check, compare or view"
  std::string names_in_words() const {
    std::string text;
    for (std::size_t i = 0; i < verbs.size(); ++i)
      text += (i == 0 ? "" : i + 1 == verbs.size() ? " or " : ", ") + verbs[i].app->get_name();
    return text;
  }
};

// Words that no option took.
void judge_rest(const CLI::App& verb) {
  const std::vector<std::string> rest = verb.remaining();
  if (rest.empty()) return;
  const std::string& first = rest.front();
  if (!first.starts_with('-')) throw UsageError(fmt::format("{}: \"{}\" is one word too many", verb.get_name(), first));
  std::vector<std::string> options;
  for (const CLI::Option* option : verb.get_options())
    for (const std::string& name : option->get_lnames()) options.push_back("--" + name);
  throw UsageError(fmt::format("{} has no option \"{}\"{}", verb.get_name(), first,
                               did_you_mean(first.substr(0, first.find('=')), options)));
}

// What CLI11 found wrong, in our words.
std::string explained(const CLI::ParseError& error) {
  std::string what = error.what();
  const std::string subject = what.substr(0, what.find(':'));
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&error) == nullptr) return what;
  if (what.find("At Most") != std::string::npos) return subject + ": given more than once";
  return subject + ": its value is missing";
}

UsageError no_verb(const Parser& parser) {
  return UsageError(fmt::format("a verb is missing: {} (`eyebrow --help` tells more)", parser.names_in_words()));
}

}  // namespace

Command parse_command_line(int argc, const char* const* argv) {
  Parser parser;
  if (argc < 2) throw no_verb(parser);
  const std::string first = argv[1];
  const bool of_the_program = first == "--help" || first == "-h" || first == "--version";
  if (!of_the_program && first.starts_with('-'))
    throw UsageError(fmt::format("\"{}\" stands where the verb belongs: {}", first, parser.names_in_words()));
  const std::vector<std::string> names = parser.names();
  if (!of_the_program && std::find(names.begin(), names.end(), first) == names.end())
    throw UsageError(fmt::format("\"{}\" is no verb{}", first, did_you_mean(first, names)));
  try {
    parser.app.parse(argc, argv);
  } catch (const CLI::CallForVersion& version) {
    return Shown{std::string(version.what()) + "\n"};
  } catch (const CLI::CallForHelp&) {
    return Shown{parser.app.help()};
  } catch (const CLI::ParseError& error) {
    // A word that is not known explains more than what is missing because of it.
    for (const CLI::App* verb : parser.app.get_subcommands()) judge_rest(*verb);
    throw UsageError(explained(error));
  }
  for (const CLI::App* verb : parser.app.get_subcommands()) judge_rest(*verb);
  for (const Verb& verb : parser.verbs) {
    if (!verb.app->parsed()) continue;
    Command command = verb.read();
    // For the second program, which reads them again.
    if (auto* picture = std::get_if<PictureArguments>(&command)) picture->words.assign(argv + 1, argv + argc);
    if (auto* view = std::get_if<ViewArguments>(&command)) view->words.assign(argv + 1, argv + argc);
    return command;
  }
  throw no_verb(parser);
}

}  // namespace eyebrow::cli
