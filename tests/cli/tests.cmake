# The program itself, as a user runs it. A check takes seconds, and some of these run several.
eyebrow_tests(cli FLAGS -O0 TIMEOUT 300
  SOURCES
    cli/bad_file_test.cpp
    cli/check_test.cpp
    cli/compare_test.cpp
    cli/cylinders_test.cpp
    cli/command_line_test.cpp
    cli/effects_test.cpp
    cli/input_fault_test.cpp
    cli/interrupt_test.cpp
    cli/map_test.cpp
    cli/new_export_test.cpp
    cli/output_test.cpp
    cli/picture_test.cpp
    cli/pocket_test.cpp
    cli/positions_test.cpp
    cli/program.cpp
    cli/stack_test.cpp
    cli/step_crown_test.cpp
    cli/threads_test.cpp
    cli/untimed_test.cpp
    cli/values_test.cpp
    cli/view_test.cpp
    ../src/cli/values.cpp
  USES fmt::fmt nlohmann_json::nlohmann_json)
target_compile_definitions(test_cli PRIVATE EYEBROW_PROGRAM="$<TARGET_FILE:eyebrow_program>")
add_dependencies(test_cli eyebrow_program eyebrow_view)
